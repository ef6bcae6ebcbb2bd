import { NEVER } from '../calendar/never.ts';
import type { Job, Problem, Stay } from '../problem/problem.ts';
import type { OperationModel, StageModel } from './job-model.ts';
import type { ShopModel } from './shop-model.ts';
import { tailsInStage } from './tails.ts';

/** The only stage of a job without a car. */
const NOWHERE: readonly number[] = [-1];

/** The stages of a job, one for each of its stays; a job without a car has one stage that is nowhere. */
export function compileStages(
  shop: ShopModel,
  problem: Problem,
  job: Job,
  operations: readonly OperationModel[],
): StageModel[] {
  const stays = job.stays.length === 0 ? NOWHERE : job.stays;
  const moves = movesInto(problem, stays, operations);
  const stages: StageModel[] = [];
  for (let k = 0; k < stays.length; k++) stages.push(compileStage(shop, problem, stays, k, moves, operations));
  return stages;
}

function compileStage(
  shop: ShopModel,
  problem: Problem,
  stays: readonly number[],
  k: number,
  moves: readonly number[],
  operations: readonly OperationModel[],
): StageModel {
  const index = stays[k]!;
  const stay = index < 0 ? undefined : problem.stays[index]!;
  const opsFrom = firstOfStage(operations, k);
  let opsTo = opsFrom;
  const masks = new Set<Uint8Array>();
  let airy = false;
  for (; opsTo < operations.length && operations[opsTo]!.stage === k; opsTo++) {
    for (const mask of shop.outline(operations[opsTo]!.modes).masks) masks.add(mask);
    airy ||= operations[opsTo]!.spans.length > 0;
  }
  return {
    stay: index,
    places: stay?.places ?? [],
    kinds: stay === undefined ? [] : shop.kindsOf(stay.places, masks, airy),
    suits: stay === undefined ? [] : shop.kindsOf(stay.places, masks, false),
    optional: stay?.optional ?? false,
    move: moves[k]!,
    comesBy: stay === undefined || stay.optional ? [] : comesBy(problem, stays, k, moves),
    opsFrom,
    opsTo,
    fixedPlace: stay?.fixed?.place ?? -1,
    fixedFrom: stay?.fixed?.from ?? -1,
    standsOn: stay?.fixed?.standsOn ?? false,
    leastMinutes: longestPath(operations, opsFrom, opsTo),
    tails: tailsInStage(operations, opsFrom, opsTo),
  };
}

/** By stage, the local index of the move that begins it; -1 when there is none. */
function movesInto(problem: Problem, stays: readonly number[], operations: readonly OperationModel[]): number[] {
  const moves: number[] = [];
  for (const index of stays) {
    const move = index < 0 ? undefined : problem.stays[index]!.move;
    moves.push(move === undefined ? -1 : localIndexOf(operations, move));
  }
  return moves;
}

function localIndexOf(operations: readonly OperationModel[], index: number): number {
  for (let i = 0; i < operations.length; i++) if (operations[i]!.index === index) return i;
  return -1;
}

/** Where the operations of stage `k` begin, which stand together; 0 when it has none. */
function firstOfStage(operations: readonly OperationModel[], k: number): number {
  for (let i = 0; i < operations.length; i++) if (operations[i]!.stage === k) return i;
  return 0;
}

/** The moves between the last stay before stage `k` that is always there and `k`, when the two have no place in common. */
function comesBy(problem: Problem, stays: readonly number[], k: number, moves: readonly number[]): number[] {
  let before = k - 1;
  while (before >= 0 && problem.stays[stays[before]!]!.optional) before--;
  if (before < 0 || haveCommonPlace(problem.stays[stays[before]!]!, problem.stays[stays[k]!]!)) return [];
  const between: number[] = [];
  for (let stage = before + 1; stage <= k; stage++) if (moves[stage]! >= 0) between.push(moves[stage]!);
  return between;
}

function haveCommonPlace(before: Stay, after: Stay): boolean {
  if (before.fixed !== undefined) return canTake(after, before.fixed.place);
  for (const place of before.places) if (canTake(after, place)) return true;
  return false;
}

function canTake({ places, fixed }: Stay, place: number): boolean {
  return fixed === undefined ? places.includes(place) : fixed.place === place;
}

/** The longest chain of always-present, not yet fixed work of a stage along minimum lags, in elapsed minutes. */
function longestPath(operations: readonly OperationModel[], from: number, to: number): number {
  const start = new Map<number, number>();
  let longest = 0;
  for (let i = from; i < to; i++) {
    const operation = operations[i]!;
    if (operation.optional || operation.fixing !== 'open' || !operation.inStay) continue;
    let earliest = 0;
    for (const lag of operation.lags) {
      const before = start.get(lag.from);
      if (lag.to !== i || before === undefined) continue;
      const edge = before + (lag.fromEnd ? operations[lag.from]!.leastMinutes : 0) + lag.min;
      earliest = Math.max(earliest, lag.toEnd ? edge - operation.leastMinutes : edge);
    }
    start.set(i, earliest);
    longest = Math.max(longest, earliest + operation.leastMinutes);
  }
  return Math.min(NEVER, longest);
}
