import type { Lag, Operation, Problem } from '../problem/problem.ts';

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
  const stays = problem.jobs[job]!.stays;
  const stageOfStay = new Map(stays.map((stay, stage) => [stay, stage]));
  const moves = new Map<number, number>();
  for (const [stage, stay] of stays.entries()) {
    const move = problem.stays[stay]!.move;
    if (move !== undefined) moves.set(move, stage);
  }
  const along = topological(members, lags);
  const stageOf = new Map<number, number>();
  for (const index of along) {
    const operation: Operation = problem.operations[index]!;
    let stage = moves.get(index) ?? (operation.stay === undefined ? undefined : stageOfStay.get(operation.stay));
    if (stage === undefined) {
      stage = 0;
      for (const lag of lags) {
        if (lag.to.operation === index) stage = Math.max(stage, stageOf.get(lag.from.operation) ?? 0);
      }
    }
    stageOf.set(index, stage);
  }
  const { arrival, handover } = problem.jobs[job]!;
  const rank = new Map(along.map((index, position) => [index, position]));
  const place = (index: number) =>
    moves.has(index) || index === arrival ? -1 : index === handover ? along.length : rank.get(index)!;
  const operations = [...along].sort((a, b) => stageOf.get(a)! - stageOf.get(b)! || place(a) - place(b));
  return { operations, stageOf };
}

function topological(members: readonly number[], lags: readonly Lag[]): number[] {
  const waitsFor = new Map(members.map((index) => [index, 0]));
  const after = new Map<number, Lag[]>(members.map((index) => [index, []]));
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
