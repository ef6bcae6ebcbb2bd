import { NEVER } from '../calendar/never.ts';
import type { Job, Problem } from '../problem/problem.ts';
import type { OperationModel, StageModel } from './job-model.ts';
import type { ShopModel } from './shop-model.ts';
import { tailsInStage } from './tails.ts';

/** The stages of a job, one for each of its stays; a job without a car has one stage that is nowhere. */
export function compileStages(
  shop: ShopModel,
  problem: Problem,
  job: Job,
  operations: readonly OperationModel[],
): StageModel[] {
  const stays = job.stays.length === 0 ? [-1] : job.stays;
  const moves = stays.map((index) => {
    const move = index < 0 ? undefined : problem.stays[index]!.move;
    return move === undefined ? -1 : operations.findIndex((operation) => operation.index === move);
  });
  return stays.map((index, k) => {
    const stay = index < 0 ? undefined : problem.stays[index]!;
    const first = operations.findIndex((operation) => operation.stage === k);
    const size = operations.filter((operation) => operation.stage === k).length;
    const opsFrom = Math.max(first, 0);
    const masks = new Set<Uint8Array>();
    let airy = false;
    for (let i = opsFrom; i < opsFrom + size; i++) {
      for (const mask of shop.outline(operations[i]!.modes).masks) masks.add(mask);
      airy ||= operations[i]!.spans.length > 0;
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
      opsTo: opsFrom + size,
      fixedPlace: stay?.fixed?.place ?? -1,
      fixedFrom: stay?.fixed?.from ?? -1,
      standsOn: stay?.fixed?.standsOn ?? false,
      leastMinutes: longestPath(operations, opsFrom, opsFrom + size),
      tails: tailsInStage(operations, opsFrom, opsFrom + size),
    };
  });
}

/** The moves between the last stay before stage `k` that is always there and `k`, when the two have no place in common. */
function comesBy(problem: Problem, stays: readonly number[], k: number, moves: readonly number[]): number[] {
  let before = k - 1;
  while (before >= 0 && problem.stays[stays[before]!]!.optional) before--;
  if (before < 0) return [];
  const placesOf = (stage: number) => {
    const { places, fixed } = problem.stays[stays[stage]!]!;
    return fixed === undefined ? places : [fixed.place];
  };
  const here = placesOf(k);
  if (placesOf(before).some((place) => here.includes(place))) return [];
  return moves.slice(before + 1, k + 1).filter((move) => move >= 0);
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
