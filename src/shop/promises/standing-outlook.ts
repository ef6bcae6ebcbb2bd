import type { Store } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { StandingBook } from '../booking/desk.ts';
import { standingBook } from '../booking/standing-book.ts';
import type { PlanningDeps } from '../deps.ts';
import { outlookOf } from './outlooks.ts';
import type { PlanOutlook } from './plan-outlook.ts';

interface Kept {
  readonly standing: StandingBook;
  readonly outlook: Promise<PlanOutlook>;
}

/** An outlook so young is good enough while the next one is being made, as long as it is of the plan that stands. */
const YOUNG_MS = 60_000;

const keptOf = new WeakMap<Store, Map<ShopId, { last: Kept | null; settled: Kept | null }>>();

/** The outlook of the plan that stands, simulated anew when something has happened or minutes have passed. @throws NotFound, Busy */
export async function standingOutlook(
  deps: Pick<PlanningDeps, 'store' | 'clock' | 'outlooks' | 'seed'>,
  shopId: ShopId,
): Promise<{ readonly standing: StandingBook; readonly outlook: PlanOutlook }> {
  const { store } = deps;
  const now = deps.clock();
  const shops = keptOf.get(store) ?? new Map<ShopId, { last: Kept | null; settled: Kept | null }>();
  keptOf.set(store, shops);
  const known = shops.get(shopId) ?? { last: null, settled: null };
  shops.set(shopId, known);
  const standing = await standingBook(store, shopId, now);
  if (known.last?.standing.key !== standing.key) {
    const made: Kept = { standing, outlook: outlookOf(deps, standing.book) };
    known.last = made;
    made.outlook.then(
      () => {
        known.settled = made;
      },
      () => {
        if (known.last === made) known.last = null;
      },
    );
  }
  const { settled } = known;
  const samePlan = settled?.standing.book.previousPlan?.version === standing.book.previousPlan?.version;
  if (deps.outlooks !== undefined && settled !== null && samePlan && now - settled.standing.book.now <= YOUNG_MS) {
    return { standing, outlook: await settled.outlook };
  }
  return { standing, outlook: await known.last!.outlook };
}
