import { DateTime } from 'luxon';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { hasSkill } from '../../trade/model/has-skill.ts';
import { OperationKey, RecipeId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Technician } from '../../trade/model/people.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { DayException, Instant, LocalDate } from '../../trade/model/time.ts';
import { withWish } from '../what-if/wish-asked.ts';
import type { CarForecast } from './plan-outlook.ts';
import type { RemedyKind } from './promise-views.ts';

/** A thing that could be done about a promise: the book as it would then be, and what is to be written for it. */
export interface RemedyVariant {
  readonly key: string;
  readonly kind: RemedyKind;
  readonly text: string;
  readonly book: Book;
  /** The job as it would be kept. */
  readonly job: Job;
  /** People whose hours would change. */
  readonly technicians: readonly Technician[];
  readonly overtimeMinutes: number;
}

/** The promise that is at risk, in its book, with its plan and its forecast. */
export interface Endangered {
  readonly book: Book;
  readonly job: Job & { readonly promise: NonNullable<Job['promise']> };
  /** The work still to begin, in order. */
  readonly ahead: readonly PlannedOperation[];
  readonly forecast: CarForecast;
}

/** Somebody who is asked to stay, stays so long; common practice. */
const OVERTIME_MINUTES = 120;
const MOST_EVENINGS = 3;
/** Others who could do the work are tried in order of their pace. */
const MOST_PEOPLE = 3;

/** Everything worth planning about an endangered promise. */
export function remedyVariants(endangered: Endangered): RemedyVariant[] {
  return [...anotherPerson(endangered), ...overtime(endangered), ...lamps(endangered), ...laterPickup(endangered)];
}

const withJob = (book: Book, job: Job): Book => ({
  ...book,
  jobs: book.jobs.map((each) => (each.id === job.id ? job : each)),
});

/** The work that makes the car late most, or else its longest, done by others who have the skill for it. */
function anotherPerson({ book, job, ahead, forecast }: Endangered): RemedyVariant[] {
  const hands = ahead.filter(({ people, sharePercent }) => people.length > 0 && sharePercent === 100);
  const blamed = forecast.blame.operations.find(
    ({ jobId, operation }) => jobId === job.id && hands.some((each) => each.operation === operation),
  );
  const length = ({ start, end }: PlannedOperation) => end - start;
  const longest = [...hands].sort((a, b) => length(b) - length(a))[0];
  const operation = hands.find((each) => each.operation === blamed?.operation) ?? longest;
  const recipe = book.recipes.find(({ id }) => id === job.recipeId);
  const step = recipe?.steps.find(({ key }) => key === operation?.operation.split('.')[0]);
  if (operation === undefined || step === undefined) return [];
  const { skill, level } = step.crew;
  const can = (person: Technician) => !operation.people.includes(person.id) && hasSkill(person, skill, level);
  return book.technicians
    .filter(can)
    .sort((a, b) => b.pacePercent - a.pacePercent)
    .slice(0, MOST_PEOPLE)
    .map((person) => {
      const wish = {
        operation: OperationKey.parse(operation.operation),
        placeId: null,
        startAt: null,
        notBefore: null,
        personId: person.id,
        madeAt: book.now,
        planBefore: book.previousPlan?.version ?? 0,
      };
      const wished = withWish(job, wish);
      return {
        key: `anotherPerson-${operation.operation}-${person.id}`,
        kind: 'anotherPerson',
        text: `${person.name} does "${operation.label}".`,
        book: withJob(book, wished),
        job: wished,
        technicians: [],
        overtimeMinutes: 0,
      };
    });
}

/** Whoever is planned on the car stays on after the shift, each evening until the promise. */
function overtime({ book, job, ahead }: Endangered): RemedyVariant[] {
  const zone = book.shop.timeZone;
  const last = localDate(job.promise.pickupAt, zone);
  const evenings: LocalDate[] = [];
  for (let date = localDate(book.now, zone); date <= last && evenings.length < MOST_EVENINGS; date = addDays(date, 1)) {
    evenings.push(date);
  }
  const own = new Set(ahead.flatMap(({ people }) => people));
  let minutes = 0;
  const changed = book.technicians.flatMap((person): Technician[] => {
    if (!own.has(person.id)) return [];
    const more = evenings.flatMap((date) => afterShift(person, date, zone, book.now));
    minutes += more.length * OVERTIME_MINUTES;
    return more.length === 0 ? [] : [{ ...person, exceptions: [...person.exceptions, ...more] }];
  });
  if (changed.length === 0) return [];
  const names = changed.map(({ name }) => name).join(', ');
  const technicians = book.technicians.map((person) => changed.find(({ id }) => id === person.id) ?? person);
  const until = evenings.length === 1 ? 'today' : `on ${evenings.length} evenings`;
  return [
    {
      key: 'overtime',
      kind: 'overtime',
      text: `${names} may stay ${OVERTIME_MINUTES / 60} hours longer ${until}.`,
      book: { ...book, technicians },
      job,
      technicians: changed,
      overtimeMinutes: minutes,
    },
  ];
}

/** Authorised overtime after the last part of somebody's day; none on a day off, or when the evening is over. */
function afterShift(person: Technician, date: LocalDate, zone: string, now: Instant): DayException[] {
  const special = person.exceptions.filter((each) => each.date === date);
  if (special.some(({ kind }) => kind === 'off' || kind === 'overtime')) return [];
  const weekday = DateTime.fromISO(date, { zone }).setLocale('en').weekdayLong!.toLowerCase();
  const parts =
    special.find(({ kind }) => kind === 'instead')?.parts ?? person.shifts[weekday as keyof Technician['shifts']] ?? [];
  const end = parts
    .map(({ to }) => to)
    .sort()
    .at(-1);
  if (end === undefined || end === '24:00') return [];
  const from = DateTime.fromISO(`${date}T${end}`, { zone });
  const to = DateTime.min(
    from.plus({ minutes: OVERTIME_MINUTES }),
    from.endOf('day').set({ second: 0, millisecond: 0 }),
  );
  if (to.toMillis() <= now || to <= from) return [];
  return [{ date, kind: 'overtime', parts: [{ from: end, to: to.toFormat('HH:mm') }], note: 'for a promise at risk' }];
}

/** Curing by lamp, where the recipe leaves the choice and the plan has the car wait. */
function lamps({ book, job, ahead }: Endangered): RemedyVariant[] {
  const recipe = book.recipes.find(({ id }) => id === job.recipeId);
  if (recipe === undefined) return [];
  const lampKeys = new Set(recipe.steps.filter(({ kind }) => kind === 'lampCure').map(({ key }) => key));
  const begun = new Set<string>(ahead.map(({ operation }) => operation.split('.')[0]!));
  const branch = recipe.branches.find(
    ({ alternatives }) =>
      alternatives.some((keys) => keys.some((key) => lampKeys.has(key))) &&
      alternatives.some((keys) => keys.every((key) => !lampKeys.has(key)) && keys.every((key) => begun.has(key))),
  );
  if (branch === undefined) return [];
  const waiting = new Set(branch.alternatives.filter((keys) => !keys.some((key) => lampKeys.has(key))).flat());
  const kept = (key: string) => !waiting.has(key);
  const byLamp = {
    ...recipe,
    id: RecipeId.parse(`${recipe.id}-by-lamp`.slice(0, 64)),
    steps: recipe.steps
      .filter(({ key }) => kept(key))
      .map((step) => (lampKeys.has(step.key) ? { ...step, presence: { when: 'always' as const } } : step)),
    branches: recipe.branches.filter((each) => each !== branch),
    lags: recipe.lags.filter(({ from, to }) => kept(from.step) && kept(to.step)),
    airSpans: recipe.airSpans.filter(({ from, to }) => kept(from.step) && kept(to.step)),
    stills: recipe.stills.filter(({ from, to }) => kept(from.step) && kept(to.step)),
  };
  const changed = withJob(book, { ...job, recipeId: byLamp.id });
  return [
    {
      key: 'lamps',
      kind: 'lamps',
      text: 'It is cured by lamp instead of by waiting; somebody watches the lamp.',
      book: { ...changed, recipes: [...book.recipes, byLamp] },
      job,
      technicians: [],
      overtimeMinutes: 0,
    },
  ];
}

/** A later pickup as sure as the shop promises; the customer has to be asked. */
function laterPickup({ book, job, forecast }: Endangered): RemedyVariant[] {
  const { earliest, medianReadyAt } = forecast;
  if (earliest === null || earliest.pickupAt <= job.promise.pickupAt) return [];
  const later: Job = {
    ...job,
    promise: {
      pickupAt: earliest.pickupAt,
      givenAt: book.now,
      confidencePercent: earliest.percent,
      medianReadyAt,
      spreadFactor: book.learned?.spreadFactor ?? 1,
    },
    formerPromises: [...(job.formerPromises ?? []), job.promise],
  };
  const when = DateTime.fromMillis(earliest.pickupAt, { zone: book.shop.timeZone }).toFormat('yyyy-MM-dd HH:mm');
  return [
    {
      key: 'laterPickup',
      kind: 'laterPickup',
      text: `Another pickup is promised: ${when}. The customer has to agree.`,
      book: withJob(book, later),
      job: later,
      technicians: [],
      overtimeMinutes: 0,
    },
  ];
}
