import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { loadBook } from '../planning/load-book.ts';
import { changedBook, type Tightest } from './changed-book.ts';
import { drawnMonth, MONTH_WEEKS } from './drawn-month.ts';
import type { MonthPlanner } from './month-planner.ts';
import { rangeOf } from './range.ts';
import { recentDemand } from './recent-demand.ts';
import {
  type ChangeOutcome,
  type MonthFigures,
  type ShareOfOpen,
  type ShareRange,
  type WhatIfProgress,
  type WhatIfs,
  type WhatIfTerms,
  whatIfChanges,
} from './what-if.ts';

/** Search for each month: a first plan and some improvement, so that both sides of a comparison are planned alike. */
const WORK_LIMIT = 60_000;

export interface WhatIfDeps extends Pick<ShopDeps, 'store' | 'clock'> {
  readonly months: MonthPlanner;
}

/**
 * What one more bay, person, lamp or long Saturday would have done: months are drawn from the recent weeks, and each is planned
 * as things are and with every change, cars and luck the same (common random numbers). Tells after each plan how far it is.
 * The shop begins each month empty, and every estimate holds: what is compared is capacity, not luck.
 * @throws NotFound, Busy (cancelled, or the worker died)
 */
export async function whatIfs(
  deps: WhatIfDeps,
  input: { readonly shopId: ShopId } & WhatIfTerms,
  onProgress: (progress: WhatIfProgress) => void = () => {},
  signal?: AbortSignal,
): Promise<WhatIfs> {
  const { shopId, ...terms } = input;
  const now = deps.clock();
  const own = await loadBook(deps.store, shopId, now);
  const demand = await recentDemand(deps.store, shopId, now);
  // Only the shop travels to the worker, not what stands in its book.
  const book: Book = { ...own, jobs: [], events: [], readings: [], previousPlan: null };
  const zone = book.shop.timeZone;
  const monday = mondayAfter(localDate(now, zone));
  const months = Array.from({ length: terms.months }, (_, month) =>
    drawnMonth(demand, zone, monday, { seed: terms.seed, month, demandPercent: terms.demandPercent }),
  );
  const of = months.length * (1 + whatIfChanges.length);
  let planned = 0;
  const planAll = async (changed: Book): Promise<(MonthFigures | null)[]> => {
    const figures: (MonthFigures | null)[] = [];
    for (const jobs of months) {
      const workLimit = WORK_LIMIT;
      figures.push(await deps.months.plan({ book: changed, jobs, monday, workLimit }, signal));
      onProgress({ planned: ++planned, of });
    }
    return figures;
  };

  const asIs = await planAll(book);
  const known = asIs.filter((each) => each !== null);
  const bays = sharesOf(known.map((each) => each.bays));
  const people = sharesOf(known.map((each) => each.people));
  const tightest: Tightest = { bay: fullest(bays), person: fullest(people) };
  const changes: ChangeOutcome[] = [];
  for (const change of whatIfChanges) {
    const changed = changedBook(book, change, tightest);
    if (changed === null) {
      planned += months.length;
      continue;
    }
    changes.push({ change, like: changed.like, ...comparison(asIs, await planAll(changed.book)) });
  }
  return {
    from: monday,
    weeks: MONTH_WEEKS,
    drawnFrom: { jobs: demand.jobs.length, weeks: demand.weeks },
    terms,
    months: known.length,
    cars: rangeOf(known.map((each) => each.cars)),
    lateCars: rangeOf(known.map((each) => each.lateCars)),
    lateMinutes: rangeOf(known.map((each) => each.lateMinutes)),
    waitMinutes: rangeOf(known.map((each) => each.waitMinutes)),
    bays,
    people,
    changes,
  };
}

/** Month by month, with less without; a month that has no plan on one side is left out. */
function comparison(asIs: readonly (MonthFigures | null)[], changed: readonly (MonthFigures | null)[]) {
  const pairs = asIs.flatMap((before, month) => {
    const after = changed[month];
    return before && after ? [{ before, after }] : [];
  });
  const change = (of: 'lateCars' | 'lateMinutes' | 'waitMinutes') =>
    rangeOf(pairs.map(({ before, after }) => after[of] - before[of]));
  return {
    months: pairs.length,
    lateCars: rangeOf(pairs.map(({ after }) => after.lateCars)),
    lateCarsChange: change('lateCars'),
    lateMinutesChange: change('lateMinutes'),
    waitMinutesChange: change('waitMinutes'),
  };
}

function sharesOf(months: readonly (readonly ShareOfOpen[])[]): ShareRange[] {
  return (months[0] ?? []).map(({ id, name }, index) => ({
    id,
    name,
    percent: rangeOf(months.map((month) => percentOf(month[index]!))),
  }));
}

const percentOf = ({ takenMinutes, openMinutes }: ShareOfOpen) =>
  openMinutes === 0 ? 0 : (100 * takenMinutes) / openMinutes;

/** Whoever or whatever has least left. */
function fullest(shares: readonly ShareRange[]): string | null {
  return [...shares].sort((a, b) => b.percent.median - a.percent.median)[0]?.id ?? null;
}

function mondayAfter(date: LocalDate): LocalDate {
  const weekday = new Date(`${date}T00:00:00Z`).getUTCDay();
  return addDays(date, (8 - weekday) % 7 || 7);
}
