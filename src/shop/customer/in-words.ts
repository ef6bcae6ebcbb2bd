import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PanelName } from '../../trade/model/vehicle.ts';

/** Writes a shop's instants and amounts as its customers read them: its zone, its locale. */
export interface InWords {
  /** Weekday, day and hour. */
  moment(at: Instant): string;
  day(at: Instant): string;
  /** The first day that lies wholly after an instant: for what may not be done before it. */
  dayAfter(at: Instant): string;
  hour(at: Instant): string;
  /** An amount in the minor unit of the shop's currency. */
  money(minor: number): string;
}

/** The locale of a shop that names none. */
export const DEFAULT_LOCALE = 'en-GB';

/** Writers for one shop; made once for many instants. */
export function inWords(shop: Pick<Shop, 'timeZone' | 'currency' | 'toCustomers'>): InWords {
  const locale = shop.toCustomers?.locale ?? DEFAULT_LOCALE;
  const inZone = (options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat(locale, { timeZone: shop.timeZone, ...options });
  const moment = inZone({ dateStyle: 'full', timeStyle: 'short' });
  const day = inZone({ dateStyle: 'full' });
  const hour = inZone({ timeStyle: 'short' });
  const money = new Intl.NumberFormat(locale, { style: 'currency', currency: shop.currency });
  const digits = money.resolvedOptions().maximumFractionDigits ?? 2;
  return {
    moment: (at) => moment.format(at),
    day: (at) => day.format(at),
    dayAfter: (at) => {
      const today = localDate(at, shop.timeZone);
      return day.format(dayStart(today, shop.timeZone) === at ? at : dayStart(addDays(today, 1), shop.timeZone));
    },
    hour: (at) => hour.format(at),
    money: (minor) => money.format(minor / 10 ** digits),
  };
}

/** A panel as a customer calls it: `left front wing`. */
export function panelInWords(panel: PanelName): string {
  return panel.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}
