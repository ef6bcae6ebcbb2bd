import type { JobId, TechnicianId } from '../../trade/model/ids.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';

/** A plan's operations as screens ask for them. */
export interface PlanIndex {
  hasCar(jobId: JobId): boolean;
  ofCar(jobId: JobId): readonly PlannedOperation[];
  /** What touches a day, which begins and ends at these instants: everybody's, or one person's. */
  ofDay(from: Instant, to: Instant, person?: TechnicianId): readonly PlannedOperation[];
}

const indexes = new WeakMap<Plan, PlanIndex>();

/** A plan never changes, so that its index is made once. Without a plan nothing is found. */
export function indexOf(plan: Plan | null): PlanIndex {
  if (plan === null) return NO_PLAN;
  const known = indexes.get(plan);
  if (known !== undefined) return known;
  const index = makeIndex(plan);
  indexes.set(plan, index);
  return index;
}

function makeIndex({ jobs, operations }: Pick<Plan, 'jobs' | 'operations'>): PlanIndex {
  const cars = new Set(jobs.map(({ jobId }) => jobId));
  const byCar = new Map<JobId, PlannedOperation[]>();
  const byPerson = new Map<TechnicianId, PlannedOperation[]>();
  for (const each of operations) {
    addTo(byCar, each.jobId, each);
    for (const id of each.people) addTo(byPerson, id, each);
  }
  const byDay = new Map<string, readonly PlannedOperation[]>();
  return {
    hasCar: (jobId) => cars.has(jobId),
    ofCar: (jobId) => byCar.get(jobId) ?? [],
    ofDay(from, to, person) {
      const day = `${from} ${to} ${person ?? ''}`;
      const all = person === undefined ? operations : (byPerson.get(person) ?? []);
      const touching = byDay.get(day) ?? all.filter(({ start, end }) => start < to && end > from);
      byDay.set(day, touching);
      return touching;
    },
  };
}

function addTo<K>(lists: Map<K, PlannedOperation[]>, key: K, operation: PlannedOperation): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [operation]);
  else list.push(operation);
}

const NO_PLAN = makeIndex({ jobs: [], operations: [] });
