import { check } from '../../../src/engine/check/check.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { warmStartOf } from '../../../src/shop/planning/warm-start.ts';
import type { Store } from '../../../src/store/store.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import type { ShopId } from '../../../src/trade/model/ids.ts';
import type { Plan } from '../../../src/trade/model/plan.ts';

/** Versions before the current one that are read whole, at most. */
const READ_BACK = 200;

/**
 * What the independent checker says against the plan a shop has stored, as of the moment it was made, and what does not read of the
 * versions before it. For plans that no fact has followed.
 */
export async function faultsOfPlans(store: Store, shopId: ShopId): Promise<string[]> {
  const plan = await store.plans.current(shopId);
  if (plan === null) return [];
  const faults: string[] = [];
  const formulation = formulate(await loadBook(store, shopId, plan.madeAt));
  for (const { rule, text } of check(formulation.problem, warmStartOf(formulation, plan))) {
    faults.push(`${shopId}: plan ${plan.version} breaks "${rule}": ${text}`);
  }
  const history = await store.plans.history(shopId, READ_BACK);
  for (const { version } of history) {
    const kept = await store.plans.get(shopId, version);
    if (kept === null) faults.push(`${shopId}: plan ${version} cannot be read`);
    else faults.push(...halves(kept).map((each) => `${shopId}: plan ${version} ${each}`));
  }
  return faults;
}

/** A plan that was written by halves has jobs without work, work without a job, or two cars in one place. */
function halves({ jobs, operations, stays }: Plan): string[] {
  const named = new Set(jobs.map(({ jobId }) => jobId));
  const worked = new Set(operations.map(({ jobId }) => jobId));
  const standing = new Set(stays.map(({ jobId }) => jobId));
  const faults: string[] = [];
  for (const id of named) if (!worked.has(id) || !standing.has(id)) faults.push(`has job ${id} without work or stay`);
  for (const id of [...worked, ...standing]) if (!named.has(id)) faults.push(`has work of ${id} and not the job`);
  const byPlace = [...stays].sort((a, b) => (a.placeId < b.placeId ? -1 : a.placeId > b.placeId ? 1 : a.from - b.from));
  byPlace.forEach((stay, index) => {
    const next = byPlace[index + 1];
    if (next?.placeId === stay.placeId && next.jobId !== stay.jobId && next.from < stay.to) {
      faults.push(`has ${stay.jobId} and ${next.jobId} in ${stay.placeId}`);
    }
  });
  return faults;
}
