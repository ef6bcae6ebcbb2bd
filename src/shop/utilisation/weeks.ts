import { addDays } from '../../trade/calendar/local-instant.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import type { BaySplit } from './bay-minutes.ts';
import { type WeekUtilisation, weekUtilisation } from './week.ts';

/** All bays of one week together, with the promises that fell due; the parts add up to `open`. */
export interface WeekTotal extends BaySplit {
  readonly monday: LocalDate;
  readonly promisesDue: number;
  readonly promisesKept: number;
  readonly promisesBroken: number;
  readonly promisesOpen: number;
}

/** Some weeks one after another, oldest first. @throws NotFound, Invalid (monday) */
export async function weekTotals(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { readonly shopId: ShopId; readonly monday: LocalDate; readonly before: number; readonly after: number },
): Promise<readonly WeekTotal[]> {
  const { shopId, monday, before, after } = input;
  const weeks: WeekTotal[] = [];
  for (let week = -before; week <= after; week++) {
    weeks.push(totalOf(await weekUtilisation(deps, { shopId, monday: addDays(monday, 7 * week) })));
  }
  return weeks;
}

function totalOf({ monday, bays, promises }: WeekUtilisation): WeekTotal {
  const sum = (part: keyof BaySplit) => bays.reduce((minutes, bay) => minutes + bay[part], 0);
  return {
    monday,
    worked: sum('worked'),
    curing: sum('curing'),
    waiting: sum('waiting'),
    blocked: sum('blocked'),
    empty: sum('empty'),
    open: sum('open'),
    promisesDue: promises.due,
    promisesKept: promises.kept,
    promisesBroken: promises.broken,
    promisesOpen: promises.open,
  };
}
