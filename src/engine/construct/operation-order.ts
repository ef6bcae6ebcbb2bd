import type { Lag, Problem } from '../problem/problem.ts';

/** A job's operations in planning order, and the stage each belongs to. */
export interface OperationOrder {
  readonly operations: readonly number[];
  readonly stageOf: ReadonlyMap<number, number>;
}

/**
 * Orders a job's operations stage by stage and along their time lags. Of several that could come next, one tied to the
 * last by a maximum lag comes first, so that blocks stay together; then the one written first. A move, or
 * the arrival, opens its stage, the handover closes its own. Work that needs no car joins the stage of what it waits for.
 */
export function orderOperations(
  problem: Problem,
  job: number,
  members: readonly number[],
  lags: readonly Lag[],
): OperationOrder {
  const { stays, arrival, handover } = problem.jobs[job]!;
  const moves = new Map<number, number>();
  for (let stage = 0; stage < stays.length; stage++) {
    const move = problem.stays[stays[stage]!]!.move;
    if (move !== undefined) moves.set(move, stage);
  }
  const along = topological(members, lags);
  const stageOf = new Map<number, number>();
  for (const index of along) {
    const { stay } = problem.operations[index]!;
    const stage = moves.get(index) ?? (stay === undefined ? -1 : stays.indexOf(stay));
    stageOf.set(index, stage < 0 ? stageWaitedFor(index, lags, stageOf) : stage);
  }
  const operations: number[] = [];
  for (let stage = 0; stage === 0 || stage < stays.length; stage++) {
    const between: number[] = [];
    let closing = -1;
    for (const index of along) {
      if (stageOf.get(index) !== stage) continue;
      if (moves.has(index) || index === arrival) operations.push(index);
      else if (index === handover) closing = index;
      else between.push(index);
    }
    for (const index of between) operations.push(index);
    if (closing >= 0) operations.push(closing);
  }
  return { operations, stageOf };
}

/** The last stage of what an operation waits for. */
function stageWaitedFor(index: number, lags: readonly Lag[], stageOf: ReadonlyMap<number, number>): number {
  let stage = 0;
  for (const lag of lags) {
    if (lag.to.operation === index) stage = Math.max(stage, stageOf.get(lag.from.operation) ?? 0);
  }
  return stage;
}

function topological(members: readonly number[], lags: readonly Lag[]): number[] {
  const waitsFor = new Map<number, number>();
  const after = new Map<number, Lag[]>();
  for (const index of members) {
    waitsFor.set(index, 0);
    after.set(index, []);
  }
  for (const lag of lags) {
    if (lag.from.operation === lag.to.operation) continue;
    waitsFor.set(lag.to.operation, waitsFor.get(lag.to.operation)! + 1);
    after.get(lag.from.operation)!.push(lag);
  }
  const order: number[] = [];
  const left = new Set(members);
  let tied = new Set<number>();
  while (left.size > 0) {
    let next = -1;
    let nextTied = false;
    for (const index of left) {
      if (waitsFor.get(index)! > 0) continue;
      const isTied = tied.has(index);
      if (next === -1 || (isTied && !nextTied)) {
        next = index;
        nextTied = isTied;
      }
    }
    // Lags that run in a circle (a window written as two lags) leave nothing ready: begin with the first written.
    if (next === -1) next = left.values().next().value!;
    left.delete(next);
    order.push(next);
    tied = new Set();
    for (const lag of after.get(next)!) {
      waitsFor.set(lag.to.operation, waitsFor.get(lag.to.operation)! - 1);
      if (lag.max !== undefined) tied.add(lag.to.operation);
    }
  }
  return order;
}
