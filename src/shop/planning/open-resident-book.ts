import { check } from '../../engine/check/check.ts';
import { solve } from '../../engine/solve.ts';
import type { Book, Releases } from '../../trade/formulate/book.ts';
import { type OpenFormulation, openFormulation } from '../../trade/formulate/open-formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { PlannedJob } from '../../trade/model/plan.ts';
import { carsInShop } from '../jobs/cars-in-shop.ts';
import { type ResidentBook, residentAt } from './resident-book.ts';
import { jobsNamed, setAsideBefore } from './set-aside.ts';
import { warmStartOf } from './warm-start.ts';

/** Days ahead that an open book covers, and days after its last car: when the weeks ahead are full, the nearest slot lies on. */
const OPEN_DAYS = 84;
const DAYS_AFTER_LAST = 21;
const DAY_MS = 86_400_000;
/** A plan so old is no picture of the shop any more. */
const OLDEST_PLAN_MS = 30 * 60_000;
/** Work was to begin before now, or ended otherwise than planned: whatever decisions are given up, it stays so. */
const OVERTAKEN: ReadonlySet<string> = new Set(['past', 'fixed-end']);
/** Cars left out of a book at most so that it opens. */
const MOST_LEFT_OUT = 6;

/**
 * Opens the plan that stands. Where the clock alone has overtaken it, and nothing was told from the floor since, it stands as
 * it was when it was made; otherwise it is put right. Cars that its plan had to set aside keep their place, and the decisions
 * it had to give up are given up here too; cars that a quick search has no place for are left out where they stand. Null when there
 * are cars but no plan, or nothing helps.
 */
export function openResidentBook(loaded: Book, seed: number): ResidentBook | null {
  const untilLast = Math.ceil((lastOutOf(loaded) - loaded.now) / DAY_MS);
  const horizonDays = Math.max(loaded.horizonDays, OPEN_DAYS, untilLast + DAYS_AFTER_LAST);
  const book = { ...loaded, horizonDays };
  if (book.previousPlan === null && book.jobs.length > 0) return null;
  const [strict, ...lenient] = givenUpBy(book);
  const whole = openFormulation(book, strict);
  const opened = asItStands(book, whole);
  if ('resident' in opened) return opened.resident;
  const earlier = asItsPlanWasMade(book);
  const ways: (readonly [Book, Releases])[] = earlier === null ? [] : [[earlier, strict!]];
  if (!opened.isOvertaken) for (const releases of lenient) ways.push([book, releases]);
  for (const [its, releases] of ways) {
    const standing = asItStands(its, openFormulation(its, releases));
    if ('resident' in standing) return standing.resident;
  }
  return putRight(book, whole, seed) ?? openWithout(book, lenient.at(-1) ?? strict!, seed);
}

/** When the last car of the plan that stands has gone. */
function lastOutOf({ previousPlan, now }: Book): number {
  let last: number = now;
  if (previousPlan !== null) for (const { to } of previousPlan.stays) last = Math.max(last, to);
  return last;
}

/** What the plan that stands may have given up, the least first: cars, then hours that it moved, then windows, closings and wishes. */
function givenUpBy(book: Book): readonly Releases[] {
  const aside = setAsideBefore(book);
  const dropOffsOf = droppedOffOtherwise(book);
  const here = carsInShop(book.jobs);
  const wishesOf = new Set<JobId>();
  for (const { id, wishes } of book.jobs) if ((wishes?.length ?? 0) > 0) wishesOf.add(id);
  return [
    { aside },
    ...(dropOffsOf.size > 0 ? [{ aside, dropOffsOf }] : []),
    ...(here.size > 0 || wishesOf.size > 0 ? [{ aside, dropOffsOf, windowsOf: here, closuresOf: here, wishesOf }] : []),
  ];
}

/** Cars whose hour to come is not the one that the plan has. */
function droppedOffOtherwise({ previousPlan, jobs }: Book): Set<JobId> {
  const plannedAt = new Map<JobId, PlannedJob['dropOffAt']>();
  for (const { jobId, dropOffAt } of previousPlan?.jobs ?? []) plannedAt.set(jobId, dropOffAt);
  const otherwise = new Set<JobId>();
  for (const { id, dropOffAt } of jobs) if (dropOffAt !== null && plannedAt.get(id) !== dropOffAt) otherwise.add(id);
  return otherwise;
}

/** The plan that stands, to the minute; or that it breaks a rule now, and whether one that no release of decisions mends. */
function asItStands(
  book: Book,
  open: OpenFormulation,
): { readonly resident: ResidentBook } | { readonly isOvertaken: boolean } {
  const { formulation } = open;
  if (book.previousPlan === null) return { resident: residentAt(book, open, { operations: [], stays: [] }) };
  const standing = warmStartOf(formulation, book.previousPlan);
  const violations = check(formulation.problem, standing);
  if (violations.length === 0) return { resident: residentAt(book, open, standing) };
  return { isOvertaken: violations.some(({ rule }) => OVERTAKEN.has(rule)) };
}

/** The nearest thing to the plan that stands that obeys every rule; null when a quick search finds none. */
function putRight(book: Book, open: OpenFormulation, seed: number): ResidentBook | null {
  if (book.previousPlan === null) return null;
  const { formulation } = open;
  const warmStart = warmStartOf(formulation, book.previousPlan);
  const { schedule } = solve(formulation.problem, { seed, workLimit: 1, warmStart });
  return schedule === null ? null : residentAt(book, open, schedule);
}

/** As much of the plan that stands as a quick search finds a plan for: the cars it names as having none are left out. */
function openWithout(book: Book, releases: Releases, seed: number): ResidentBook | null {
  if (book.previousPlan === null) return null;
  const aside = new Set(releases.aside);
  for (let tries = 0; tries < MOST_LEFT_OUT; tries++) {
    const open = openFormulation(book, { ...releases, aside });
    const { formulation } = open;
    const warmStart = warmStartOf(formulation, book.previousPlan);
    const { schedule, conflict } = solve(formulation.problem, { seed, workLimit: 1, warmStart });
    if (schedule !== null) return residentAt(book, open, schedule);
    const lost = jobsNamed(conflict, formulation)[0];
    if (lost === undefined) return null;
    aside.add(lost);
  }
  return null;
}

/** The book at the minute its plan was made, if that is not long ago and the floor has told nothing since. */
function asItsPlanWasMade(book: Book): Book | null {
  const madeAt = book.previousPlan?.madeAt ?? book.now;
  if (madeAt >= book.now || book.now - madeAt > OLDEST_PLAN_MS) return null;
  for (const { recordedAt } of book.events) if (recordedAt > madeAt) return null;
  return { ...book, now: madeAt };
}
