import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { Tier } from '../problem/problem.ts';
import type { JobModel, OperationModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import type { ShopModel } from './shop-model.ts';

/** Minutes by which a changed crew counts in the change tier. */
const CHANGED_CREW_MINUTES = 60;

const pieces = new WorkedPieces();

/** Writes what one job's plan adds to each tier into `into`; the makespan's share is the job's own last end. */
export function costJob(shop: ShopModel, job: JobModel, plan: JobPlan, into: Float64Array): void {
  const tiers = shop.problem.tiers;
  for (let k = 0; k < tiers.length; k++) into[k] = tierOf(tiers[k]!, shop, job, plan);
}

function tierOf(tier: Tier, shop: ShopModel, job: JobModel, plan: JobPlan): number {
  if (tier === 'broken') return pickup(job, plan) > job.promiseAt ? job.promiseWeight : 0;
  if (tier === 'tardiness') {
    const at = pickup(job, plan);
    return Math.max(0, at - job.promiseAt) * job.promiseWeight + Math.max(0, at - job.dueAt) * job.dueWeight;
  }
  if (tier === 'lead') return job.ready < 0 ? 0 : plan.end[job.ready]! - dropOff(job, plan);
  if (tier === 'standing') return standing(shop, job, plan);
  let total = 0;
  for (let i = 0; i < job.operations.length; i++) {
    const mode = plan.mode[i]!;
    if (mode < 0) continue;
    const operation = job.operations[i]!;
    if (tier === 'makespan') total = Math.max(total, plan.end[i]!);
    else if (tier === 'overtime') total += overtimeMinutes(shop, operation, mode, plan.start[i]!, plan.end[i]!);
    else total += changeMinutes(shop, operation, mode, plan.start[i]!);
  }
  return total;
}

/** The instant the promise is judged by. */
export function pickup(job: JobModel, plan: JobPlan): number {
  return job.handover >= 0 ? plan.start[job.handover]! : job.ready >= 0 ? plan.end[job.ready]! : 0;
}

export function dropOff(job: JobModel, plan: JobPlan): number {
  for (let k = 0; k < job.stages.length; k++) if (plan.place[k]! >= 0) return plan.from[k]!;
  return job.arrival >= 0 ? plan.start[job.arrival]! : job.release;
}

function standing({ places }: ShopModel, job: JobModel, plan: JobPlan): number {
  let cost = 0;
  for (let k = 0; k < job.stages.length; k++) {
    if (plan.place[k]! >= 0) cost += (plan.to[k]! - plan.from[k]!) * places[plan.place[k]!]!.standingCost;
  }
  return cost;
}

function overtimeMinutes(shop: ShopModel, operation: OperationModel, mode: number, start: number, end: number): number {
  const { resources, calendar, budget } = operation.modes[mode]!;
  let minutes = 0;
  for (let u = 0; u < resources.length; u++) {
    const overtime = shop.resources[resources[u]!]!.overtime;
    if (overtime === null) continue;
    pieces.ofSpan(calendar, budget, start, end);
    for (let k = 0; k < pieces.count; k++) minutes += overtime.minutesIn(pieces.from[k]!, pieces.to[k]!);
  }
  return minutes;
}

function changeMinutes(shop: ShopModel, operation: OperationModel, mode: number, start: number): number {
  if (operation.fact) return 0;
  const before = shop.problem.previous?.operations[operation.index];
  if (!before) return 0;
  const sameCrew = operation.modes[before.mode]?.crew === operation.modes[mode]!.crew;
  return Math.abs(start - before.start) + (sameCrew ? 0 : CHANGED_CREW_MINUTES);
}
