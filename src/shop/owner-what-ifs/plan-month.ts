import { intersect, union } from '../../trade/calendar/intervals.ts';
import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { LocalDate } from '../../trade/model/time.ts';
import { type DraftDeps, draftPlan } from '../planning/draft-plan.ts';
import { Busy } from '../problems/problems.ts';
import { total } from '../utilisation/bay-minutes.ts';
import { MONTH_WEEKS } from './drawn-month.ts';
import type { MonthFigures, ShareOfOpen } from './what-if.ts';

/** Days after the month in which its last cars may be finished. */
const OVERHANG_DAYS = 21;
const MINUTE = 60_000;

/** A month of drawn cars in a shop that begins it empty. */
export interface MonthTask {
  /** The shop as it is or as it is changed; its own jobs, facts and plan do not count. */
  readonly book: Book;
  readonly jobs: readonly Job[];
  readonly monday: LocalDate;
  /** Units of search work. */
  readonly workLimit: number;
}

/** Plans a month and sums it up; null when no plan was found. */
export async function planMonth(deps: DraftDeps, task: MonthTask): Promise<MonthFigures | null> {
  const { jobs, monday } = task;
  const now = dayStart(monday, task.book.shop.timeZone);
  const book: Book = {
    ...task.book,
    jobs,
    events: [],
    readings: [],
    previousPlan: null,
    now,
    horizonDays: 7 * MONTH_WEEKS + OVERHANG_DAYS,
  };
  if (jobs.length === 0) return figuresOf(book, null, monday);
  try {
    const ask = { reason: 'what if', workLimit: task.workLimit, keepDecisions: true };
    return figuresOf(book, (await draftPlan(deps, book, ask)).plan, monday);
  } catch (problem) {
    if (problem instanceof Busy) return null;
    throw problem;
  }
}

function figuresOf(book: Book, plan: Plan | null, monday: LocalDate): MonthFigures {
  const planned = plan?.jobs ?? [];
  const late = planned.map((each) => each.lateMinutes).filter((minutes) => minutes > 0);
  const comes = new Map(book.jobs.map((job) => [job.id, job.earliestDropOff]));
  const waits = planned
    .map((each) => Math.round((each.readyAt - (comes.get(each.jobId) ?? each.dropOffAt)) / MINUTE))
    .sort((a, b) => a - b);
  return {
    cars: planned.length,
    lateCars: late.length,
    lateMinutes: late.reduce((sum, minutes) => sum + minutes, 0),
    waitMinutes: waits[Math.floor(waits.length / 2)] ?? 0,
    bays: baysOf(book, plan, monday),
    people: peopleOf(book, plan, monday),
  };
}

function baysOf(book: Book, plan: Plan | null, monday: LocalDate): ShareOfOpen[] {
  const { shop } = book;
  const days = { zone: shop.timeZone, from: monday, to: addDays(monday, 7 * MONTH_WEEKS) };
  const { open } = openHours(days, shop.hours, shop.exceptions);
  return book.places
    .filter((place) => place.kind === 'bay')
    .map(({ id, name }) => {
      const stays = plan?.stays.filter((stay) => stay.placeId === id) ?? [];
      return {
        id,
        name,
        takenMinutes: minutes(total(intersect(open, union(stays)))),
        openMinutes: minutes(total(open)),
      };
    });
}

function peopleOf(book: Book, plan: Plan | null, monday: LocalDate): ShareOfOpen[] {
  const days = { zone: book.shop.timeZone, from: monday, to: addDays(monday, 7 * MONTH_WEEKS) };
  return book.technicians.map(({ id, name, shifts, exceptions }) => {
    const { open } = openHours(days, shifts, exceptions);
    const hands =
      plan?.operations
        .filter((each) => each.sharePercent === 100 && each.people.includes(id))
        .flatMap((each) => each.pieces) ?? [];
    return { id, name, takenMinutes: minutes(total(intersect(open, union(hands)))), openMinutes: minutes(total(open)) };
  });
}

const minutes = (ms: number) => Math.round(ms / MINUTE);
