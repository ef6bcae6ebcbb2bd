import { NEVER } from '../calendar/never.ts';
import type { Problem } from '../problem/problem.ts';
import { branchCombinations } from './branch-combinations.ts';
import { compileOperation } from './compile-operation.ts';
import { compileStages } from './compile-stages.ts';
import { compileTies, type Positions, positionsOf } from './compile-ties.ts';
import type { JobModel, OperationModel, StageModel } from './job-model.ts';
import { type Extent, type JobParts, NOTHING, readParts } from './job-parts.ts';
import { orderOperations } from './operation-order.ts';
import type { ShopModel } from './shop-model.ts';
import { soonest } from './soonest.ts';
import { tailsTo } from './tails.ts';

/** Compiles the jobs that `problem` has beyond `known`. */
export function compileJobs(shop: ShopModel, problem: Problem, known: Extent = NOTHING): JobModel[] {
  const jobs: JobModel[] = [];
  for (const parts of readParts(problem, known)) {
    jobs.push(compileJob(shop, problem, known.jobs + jobs.length, parts));
  }
  return jobs;
}

function compileJob(shop: ShopModel, problem: Problem, index: number, parts: JobParts): JobModel {
  const job = problem.jobs[index]!;
  const order = orderOperations(problem, index, parts.operations, parts.lags);
  const at = positionsIn(order.operations);
  const ties = compileTies(problem, job, parts, at);
  const branches = localBranches(parts.branches, at);
  const branched = membersOf(branches);
  const operations: OperationModel[] = [];
  for (const each of order.operations) {
    const i = operations.length;
    const stage = order.stageOf.get(each)!;
    operations.push(compileOperation(shop, job, problem.operations[each]!, each, stage, branched.has(i), ties.of[i]!));
  }
  const stages = compileStages(shop, problem, job, operations);
  const arrival = job.arrival === undefined ? -1 : at.get(job.arrival)!;
  const handover = job.handover === undefined ? -1 : at.get(job.handover)!;
  const ready = job.ready === undefined ? -1 : at.get(job.ready)!;
  const inShop = (arrival >= 0 && operations[arrival]!.fact) || hasArrived(operations, stages);
  return {
    index,
    name: job.name,
    operations,
    stages,
    spans: ties.spans,
    stills: ties.stills,
    crews: ties.crews,
    branches,
    combinations: branchCombinations(operations, stages, branches),
    lags: ties.lags,
    release: job.release,
    dropOffOpen: job.dropOffOpen ? shop.intervalSet(job.dropOffOpen) : null,
    pickupOpen: job.pickupOpen ? shop.intervalSet(job.pickupOpen) : null,
    arrival,
    handover,
    ready,
    promiseAt: job.promise?.at ?? NEVER,
    promiseWeight: job.promise?.weight ?? 0,
    dueAt: job.due?.at ?? NEVER,
    dueWeight: job.due?.weight ?? 0,
    inShop,
    soonest: inShop ? soonest(operations, shop.now) : null,
    fixed: isFixed(operations, stages),
    toPickup: handover >= 0 ? tailsTo(operations, handover, 'start') : tailsTo(operations, ready, 'end'),
    toReady: tailsTo(operations, ready, 'end'),
    leastMinutes: leastMinutesOf(stages),
  };
}

function positionsIn(operations: readonly number[]): Positions {
  const at = new Map<number, number>();
  for (const operation of operations) at.set(operation, at.size);
  return at;
}

function localBranches(branches: JobParts['branches'], at: Positions): number[][][] {
  const local: number[][][] = [];
  for (const alternatives of branches) {
    const ofBranch: number[][] = [];
    for (const alternative of alternatives) ofBranch.push(positionsOf(alternative, at));
    local.push(ofBranch);
  }
  return local;
}

function membersOf(branches: readonly (readonly (readonly number[])[])[]): ReadonlySet<number> {
  const members = new Set<number>();
  for (const alternatives of branches) {
    for (const alternative of alternatives) for (const i of alternative) members.add(i);
  }
  return members;
}

/** Whether some stay's arrival is a fact. */
function hasArrived(operations: readonly OperationModel[], stages: readonly StageModel[]): boolean {
  for (const { fixedFrom, move } of stages) {
    if (fixedFrom >= 0 || (move >= 0 && operations[move]!.fact)) return true;
  }
  return false;
}

function isFixed(operations: readonly OperationModel[], stages: readonly StageModel[]): boolean {
  for (const { fixedPlace } of stages) if (fixedPlace >= 0) return true;
  for (const { fixing } of operations) if (fixing !== 'open') return true;
  return false;
}

function leastMinutesOf(stages: readonly StageModel[]): number {
  let minutes = 0;
  for (const stage of stages) minutes += stage.leastMinutes;
  return minutes;
}
