import { DateTime } from 'luxon';
import type { Shop } from '../../trade/model/shop.ts';

/** An hour as the desk says it: "Tue 3 Mar, 09:00". */
export function localClock(at: number, { timeZone }: Pick<Shop, 'timeZone'>): string {
  return DateTime.fromMillis(at, { zone: timeZone }).setLocale('en-GB').toFormat('ccc d LLL, HH:mm');
}
