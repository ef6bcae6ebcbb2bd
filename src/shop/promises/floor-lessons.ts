import { setImmediate } from 'node:timers/promises';
import { calibration } from '../../promise/calibrate/calibration.ts';
import { SCOPE_CHANGES } from '../../promise/outlook/trade-belief.ts';
import { tradePriors } from '../../promise/outlook/trade-priors.ts';
import { learnDurations } from '../../promise/spread/duration-model.ts';
import { type LearnedChance, learnedChance } from '../../promise/spread/learned-chance.ts';
import type { SetAside } from '../../promise/spread/set-aside.ts';
import type { Store } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { eventsByJob } from '../../trade/formulate/events-by-job.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Job, JobState } from '../../trade/model/job.ts';
import type { Technician } from '../../trade/model/people.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import { commonNorms } from '../../trade/work-content/common-norms.ts';
import type { LearnedFromFloor } from '../../trade/work-content/learned-from-floor.ts';
import type { Visit } from '../floor/load-cars.ts';
import { foundShop } from '../records/found.ts';
import { pagesOfJobs } from '../records/pages-of-jobs.ts';
import type { NewsKind } from '../records/tell.ts';
import { type JobLesson, jobLesson, type ScoredPromise } from './job-lesson.ts';

/** Cars that came longer ago teach nothing any more: people, products and habits have changed. */
const DAYS_BACK = 400;
/** Cars read at once; between such parts other requests get their turn. */
const CARS_AT_ONCE = 50;
const NEWS_AT_ONCE = 500;
const TEACHING: readonly JobState[] = ['done', 'inShop'];
/** News about a job after which it is read anew. */
const OF_JOBS: ReadonlySet<string> = new Set<NewsKind>([
  'job.changed',
  'fact.recorded',
  'inspection.recorded',
  'scope.answered',
]);

/** Everything the floor's records teach. */
export interface FloorLessons {
  readonly learned: LearnedFromFloor;
  readonly inspectionFails: LearnedChance & { readonly happened: number; readonly cars: number };
  readonly scopeChanges: LearnedChance & { readonly happened: number; readonly cars: number };
  /** Records that were not learned from. */
  readonly setAside: readonly (SetAside & { readonly record: JobLesson['records'][number] })[];
  readonly promises: readonly ScoredPromise[];
}

interface Kept {
  readonly sequence: number;
  readonly lessons: Map<JobId, JobLesson>;
  readonly told: FloorLessons;
  /** The shop's word on failed inspections, which what is learned of them starts from. */
  readonly statedPercent: number;
}

const keptOf = new WeakMap<Store, Map<ShopId, Promise<Kept>>>();

/**
 * What the floor has taught until now: read from the facts once, then only the cars that news speak of. The calls of one shop
 * follow one another. @throws NotFound (shop)
 */
export async function floorLessons(store: Store, shopId: ShopId, now: Instant): Promise<FloorLessons> {
  const shops = keptOf.get(store) ?? new Map<ShopId, Promise<Kept>>();
  keptOf.set(store, shops);
  const before = shops.get(shopId) ?? Promise.resolve(undefined);
  const kept = before.catch(() => undefined).then((known) => upToDate(store, shopId, now, known));
  shops.set(shopId, kept);
  return (await kept).told;
}

/** What cars teach whose facts are at hand already. */
export function lessonsOf(
  visits: readonly Visit[],
  shop: Shop,
  technicians: readonly Technician[],
  now: Instant,
): FloorLessons {
  const workshop = workshopOf(shop, technicians);
  return taught(
    visits.map(({ job, recipe, events }) => jobLesson(job, recipe, events, workshop, now)),
    shop,
  );
}

function workshopOf(shop: Shop, technicians: readonly Technician[]) {
  return { shop, technicians: new Map(technicians.map((each) => [each.id, each])), norms: commonNorms };
}

/** The book with what the floor has taught. */
export async function withLessons(store: Store, book: Book): Promise<Book> {
  if (book.learned !== undefined) return book;
  return { ...book, learned: (await floorLessons(store, book.shop.id, book.now)).learned };
}

async function upToDate(store: Store, shopId: ShopId, now: Instant, known: Kept | undefined): Promise<Kept> {
  const sequence = await store.outbox.lastSequence(shopId);
  const shop = await foundShop(store, shopId);
  const { finalInspectionFailurePercent: statedPercent } = shop;
  if (known?.sequence === sequence && known.statedPercent === statedPercent) return known;
  const lessons = known?.lessons ?? new Map<JobId, JobLesson>();
  const changed = known === undefined ? null : await newsOfJobs(store, shopId, known.sequence);
  const read = (jobs: readonly Job[]) => readJobs(store, shop, jobs, now, lessons);
  if (changed === null) {
    const visiting = { from: Math.max(0, now - DAYS_BACK * 86_400_000) as Instant, to: now, now };
    for await (const page of pagesOfJobs(store, shopId, { states: TEACHING, visiting }, CARS_AT_ONCE)) {
      await read(page);
      await setImmediate();
    }
  } else {
    const jobs = await Promise.all([...changed].map((id) => store.jobs.get(shopId, id)));
    await read(jobs.flatMap((job) => (job !== null && TEACHING.includes(job.value.state) ? [job.value] : [])));
    if (changed.size === 0 && known?.statedPercent === statedPercent) return { ...known, sequence };
  }
  return { sequence, lessons, statedPercent, told: taught([...lessons.values()], shop) };
}

async function newsOfJobs(store: Store, shopId: ShopId, after: number): Promise<Set<JobId>> {
  const changed = new Set<JobId>();
  for (let from = after; ; ) {
    const news = await store.outbox.listAfter(shopId, from, NEWS_AT_ONCE);
    for (const { kind, subject } of news) if (OF_JOBS.has(kind)) changed.add(JobId.parse(subject));
    if (news.length < NEWS_AT_ONCE) return changed;
    from = news.at(-1)!.sequence;
  }
}

async function readJobs(
  store: Store,
  shop: Shop,
  jobs: readonly Job[],
  now: Instant,
  lessons: Map<JobId, JobLesson>,
): Promise<void> {
  if (jobs.length === 0) return;
  const [recipes, people, events] = await Promise.all([
    store.recipes.list(shop.id),
    store.technicians.list(shop.id),
    store.floorEvents.listByJobs(
      shop.id,
      jobs.map(({ id }) => id),
    ),
  ]);
  const recipeOf = new Map(recipes.map(({ value }) => [value.id, value]));
  const eventsOf = eventsByJob(events);
  const workshop = workshopOf(
    shop,
    people.map(({ value }) => value),
  );
  for (const job of jobs) {
    const recipe = recipeOf.get(job.recipeId);
    if (recipe === undefined) continue;
    lessons.set(job.id, jobLesson(job, recipe, eventsOf.get(job.id) ?? [], workshop, now));
  }
}

function taught(lessons: readonly JobLesson[], shop: Shop): FloorLessons {
  const records = lessons.flatMap((lesson) => lesson.records);
  const { durations, setAside } = learnDurations(records, tradePriors(commonNorms));
  const sum = (value: (lesson: JobLesson) => number) => lessons.reduce((total, lesson) => total + value(lesson), 0);
  const chance = (stated: number, happened: number, cars: number) => ({
    ...learnedChance(stated, happened, cars),
    happened,
    cars,
  });
  const inspectionFails = chance(
    shop.finalInspectionFailurePercent / 100,
    sum(({ failed }) => failed),
    sum(({ inspected }) => inspected),
  );
  const scopeChanges = chance(
    SCOPE_CHANGES,
    sum(({ grew }) => Number(grew)),
    sum(({ corrected }) => Number(corrected)),
  );
  const promises = lessons.flatMap((lesson) => lesson.promises).sort((a, b) => a.givenAt - b.givenAt);
  return {
    learned: {
      durations,
      inspectionFails: inspectionFails.probability,
      scopeChanges: scopeChanges.probability,
      spreadFactor: spreadFactorFrom(promises),
    },
    inspectionFails,
    scopeChanges,
    setAside: setAside as FloorLessons['setAside'],
    promises,
  };
}

const NARROWEST = 0.5;
const WIDEST = 3;

/**
 * What new promises' spreads are multiplied by: the factor of the last promise scored, corrected by how promises given at
 * that factor were kept. Derived from the promises alone, so that nothing has to be remembered.
 *
 * @param promises by when they were given.
 */
export function spreadFactorFrom(promises: readonly ScoredPromise[]): number {
  const inUse = promises.at(-1)?.spreadFactor ?? 1;
  const given = promises.filter(({ spreadFactor }) => Math.abs(spreadFactor - inUse) < 0.005);
  const corrected = inUse * calibration(given).spreadFactor;
  return Math.round(Math.min(WIDEST, Math.max(NARROWEST, corrected)) * 100) / 100;
}
