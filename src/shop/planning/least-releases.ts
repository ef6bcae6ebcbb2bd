import type { Releases } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { WAITS_AT_THE_DOOR_MINUTES } from '../../trade/formulate/job-terms.ts';
import { dropOffsInReleaseOrder } from '../../trade/formulate/release-order.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';

/** Most attempts to take a release back again; each is a plan. */
const MOST_TAKEN_BACK = 3;

/**
 * Jobs whose drop-off hour may be given up, in order: holds, which nobody has bought, then bookings, the least priority
 * first and of equals the later hour first.
 */
export function dropOffsToRelease(formulation: Formulation): readonly JobId[] {
  const order = dropOffsInReleaseOrder(formulation);
  const held = new Set(formulation.jobs.filter(({ job }) => job.state === 'held').map(({ job }) => job.id));
  return [...order.filter((id) => held.has(id)), ...order.filter((id) => !held.has(id))];
}

/** Jobs with wishes of the desk, in the order in which these are given up: the newest first. */
export function wishesToRelease(jobs: readonly Job[]): readonly JobId[] {
  const newest = ({ wishes }: Job) => Math.max(0, ...(wishes ?? []).map((wish) => wish.madeAt));
  return jobs
    .filter(({ wishes }) => wishes !== undefined && wishes.length > 0)
    .sort((a, b) => newest(b) - newest(a) || (a.id < b.id ? -1 : 1))
    .map(({ id }) => id);
}

/** As few wishes as the order needs, given up so that a plan exists; null when not even all of them are enough. */
export async function leastWishes(
  order: readonly JobId[],
  hasPlan: (releases: Releases) => Promise<boolean>,
): Promise<Releases | null> {
  const least = await leastPrefix(order, (some) => hasPlan({ wishesOf: some }));
  return least === null ? null : { wishesOf: new Set(least) };
}

/**
 * The decisions to give up so that a plan exists: as few of the drop-off hours as the order needs, then none that can be
 * taken back, the dearest first; when all of them are not enough, also the windows that run on the floor and have no
 * remedy, and places that close around cars. Promised pickups are never given up here: a plan may break one, and then it is listed. Null
 * when nothing helps.
 */
export async function leastReleases(
  order: readonly JobId[],
  inShop: ReadonlySet<JobId>,
  hasPlan: (releases: Releases) => Promise<boolean>,
): Promise<Releases | null> {
  const least = await leastPrefix(order, (some) => hasPlan({ dropOffsOf: some }));
  // The last one is needed: without it the order had no plan.
  if (least !== null) return withoutNeedless(least, least.slice(0, -1).reverse(), hasPlan);
  if (inShop.size === 0) return null;
  const all: Releases = { dropOffsOf: new Set(order), windowsOf: inShop, closuresOf: inShop };
  return (await hasPlan(all)) ? all : null;
}

/**
 * How late those come at most whose drop-off hour is given up, in minutes of opening hours: they wait at the door, come in the course
 * of a day, or whenever.
 */
const COME_WITHIN: readonly (number | undefined)[] = [WAITS_AT_THE_DOOR_MINUTES, 600, undefined];

/**
 * The drop-off hours of whoever the search found no place for, given up by as little as there is a plan with: customers come when they
 * were told to, and a plan of whose objective they are no part would have them come when it suits. Null when no time is enough.
 */
export async function leastLate(
  named: readonly JobId[],
  hasPlan: (releases: Releases) => Promise<boolean>,
): Promise<Releases | null> {
  for (const minutes of COME_WITHIN) {
    const within = minutes === undefined ? {} : { dropOffsWithinMinutes: minutes };
    const least = await leastOfNamed(named, (some) => hasPlan({ ...some, ...within }));
    if (least !== null) return { ...least, ...within };
  }
  return null;
}

/**
 * The drop-off hours of whoever the search found no place for, none that can be taken back: a plan sooner than by trying the
 * whole order. Null when they are not enough.
 */
export async function leastOfNamed(
  named: readonly JobId[],
  hasPlan: (releases: Releases) => Promise<boolean>,
): Promise<Releases | null> {
  const all = [...new Set(named)];
  if (all.length === 0 || !(await hasPlan({ dropOffsOf: new Set(all) }))) return null;
  return withoutNeedless(all, all, hasPlan);
}

/** What of the released is needed, a few of them having been tried to be taken back in a given order; one stays at least. */
async function withoutNeedless(
  released: readonly JobId[],
  inTurn: readonly JobId[],
  hasPlan: (releases: Releases) => Promise<boolean>,
): Promise<Releases> {
  let needed = released;
  for (const job of inTurn.slice(0, MOST_TAKEN_BACK)) {
    const fewer = needed.filter((each) => each !== job);
    if (fewer.length > 0 && (await hasPlan({ dropOffsOf: new Set(fewer) }))) needed = fewer;
  }
  return { dropOffsOf: new Set(needed) };
}

/** As many of the order, from its beginning, as help; null when not even all do. */
async function leastPrefix(
  order: readonly JobId[],
  helps: (some: ReadonlySet<JobId>) => Promise<boolean>,
): Promise<readonly JobId[] | null> {
  const first = (count: number) => new Set(order.slice(0, count));
  if (order.length === 0 || !(await helps(first(order.length)))) return null;
  let tooFew = 0;
  let enough = order.length;
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (await helps(first(middle))) enough = middle;
    else tooFew = middle;
  }
  return order.slice(0, enough);
}
