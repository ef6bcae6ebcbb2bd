import type { Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { workedStretches } from '../../trade/formulate/worked-stretches.ts';

/** What a schedule holds of places, people and equipment from now until some minute, as taken by others. */
export function takenBy(
  problem: Problem,
  schedule: Schedule,
  until: number,
): Pick<Problem, 'takenPlaces' | 'takenResources'> {
  const takenPlaces = schedule.stays.flatMap((stay, s) => {
    if (stay == null || stay.to <= problem.now || stay.from >= until) return [];
    const { move } = problem.stays[s]!;
    const moved = move === undefined ? null : schedule.operations[move];
    return [{ place: stay.place, from: Math.min(stay.from, moved?.start ?? stay.from), to: stay.to }];
  });
  const takenResources = schedule.operations.flatMap((planned, o) => {
    if (planned == null || planned.end <= problem.now || planned.start >= until) return [];
    const mode = problem.operations[o]!.modes[planned.mode]!;
    if (mode.uses.length === 0) return [];
    return workedStretches(problem, mode, planned.start, planned.end).flatMap(({ from, to }) =>
      mode.uses.map(({ resource, amount }) => ({ resource, amount, from, to })),
    );
  });
  return {
    takenPlaces: [...problem.takenPlaces, ...takenPlaces],
    takenResources: [...problem.takenResources, ...takenResources],
  };
}
