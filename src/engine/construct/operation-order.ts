import type { Lag, Problem } from '../problem/problem.ts';

/** Instead of how many lags a member waits for. */
const PLACED = -1;

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
  const at = new Map<number, number>();
  for (const index of members) at.set(index, at.size);
  const waitsFor = new Int32Array(members.length);
  for (const { from, to } of lags) if (from.operation !== to.operation) waitsFor[at.get(to.operation)!]!++;
  /** By member, the operation placed last that a maximum lag ties it to. */
  const tiedTo = new Int32Array(members.length).fill(-1);
  const order: number[] = [];
  for (let last = -1; order.length < members.length; ) {
    const chosen = nextMember(waitsFor, tiedTo, last);
    last = members[chosen]!;
    waitsFor[chosen] = PLACED;
    order.push(last);
    for (const { from, to, max } of lags) {
      if (from.operation !== last || to.operation === last) continue;
      const after = at.get(to.operation)!;
      if (waitsFor[after] !== PLACED) waitsFor[after]!--;
      if (max !== undefined) tiedTo[after] = last;
    }
  }
  return order;
}

/** Which of the members that are not placed yet comes after `last`. */
function nextMember(waitsFor: Int32Array, tiedTo: Int32Array, last: number): number {
  let ready = -1;
  let written = -1;
  for (let k = 0; k < waitsFor.length; k++) {
    if (waitsFor[k] === PLACED) continue;
    if (written < 0) written = k;
    if (waitsFor[k]! > 0) continue;
    if (last >= 0 && tiedTo[k] === last) return k;
    if (ready < 0) ready = k;
  }
  // Lags that run in a circle (a window written as two lags) leave nothing ready: begin with the first written.
  return ready >= 0 ? ready : written;
}
