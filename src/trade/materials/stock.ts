import type { Bottle, Coating } from '../model/coating.ts';
import type { Instant, LocalDate } from '../model/time.ts';

const MS_PER_MINUTE = 60_000;

export interface StockVerdict {
  readonly suffices: boolean;
  readonly usableMillilitres: number;
  readonly text: string;
}

/** Whether a bottle may still be laid from: not past its expiry day, nor its life once opened. */
export function bottleUsable(bottle: Bottle, openBottleMinutes: number, at: Instant, day: LocalDate): boolean {
  if (bottle.expiresOn < day) return false;
  return bottle.openedAt === null || at < bottle.openedAt + openBottleMinutes * MS_PER_MINUTE;
}

/**
 * Does the stock suffice for `neededMillilitres` at an instant? `day` is that instant's day in the shop's zone;
 * `bookedMillilitres` is what other jobs will have used by then.
 */
export function stockSuffices(
  coating: Pick<Coating, 'name' | 'stock' | 'dataSheet'>,
  neededMillilitres: number,
  at: Instant,
  day: LocalDate,
  bookedMillilitres = 0,
): StockVerdict {
  const onShelf = coating.stock
    .filter((bottle) => bottleUsable(bottle, coating.dataSheet.openBottleMinutes, at, day))
    .reduce((sum, bottle) => sum + bottle.millilitresLeft, 0);
  const usable = Math.max(0, onShelf - bookedMillilitres);
  const booked = bookedMillilitres > 0 ? ` (${bookedMillilitres} ml of ${onShelf} ml booked by other jobs)` : '';
  return {
    suffices: usable >= neededMillilitres,
    usableMillilitres: usable,
    text: `${coating.name}: ${neededMillilitres} ml needed, ${usable} ml usable on ${day}${booked}`,
  };
}
