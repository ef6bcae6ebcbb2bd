import type { Edge, Problem } from '../problem/problem.ts';
import type { ConflictPart } from '../problem/solution.ts';

/** How an instant of the engine's axis is told to a person: the caller knows the time zone. */
export type TellMinute = (minute: number) => string;

const bareMinute: TellMinute = (minute) => `minute ${minute}`;

/**
 * The rules of a problem that somebody could in principle do without, each as one part, in the order in which an
 * explanation would rather do without them: the horizon, chemistry and air first, what the desk can talk about last. What has
 * happened is no part: facts cannot be otherwise.
 */
export function partsOf(problem: Problem, tellMinute: TellMinute = bareMinute): ConflictPart[] {
  return [
    { kind: 'horizon', index: 0, text: `The plan ends by ${tellMinute(problem.horizon)}.` },
    ...lagParts(problem),
    ...problem.stills.map((still, index): ConflictPart => {
      const text = `The car of "${job(problem, still.job)}" stands still from ${edge(problem, still.from)} to ${edge(problem, still.to)}.`;
      return { kind: 'still', index, text };
    }),
    ...problem.airExclusions.map((exclusion, index): ConflictPart => {
      const [first, second] = [problem.airLabels[exclusion.first], problem.airLabels[exclusion.second]];
      return { kind: 'air', index, text: `${first} and ${second} do not meet in "${problem.zones[exclusion.zone]}".` };
    }),
    ...problem.sameCrew.map(({ first, second }, index): ConflictPart => {
      const text = `The same people do ${operation(problem, first)} and ${operation(problem, second)}.`;
      return { kind: 'crew', index, text };
    }),
    ...problem.operations.flatMap(({ modes }, index): ConflictPart[] => {
      if (modes.every((mode) => mode.allowed === undefined)) return [];
      return [{ kind: 'operation', index, text: `${operation(problem, index)} waits for fit conditions.` }];
    }),
    ...problem.budgets.map(({ name, limit }, index): ConflictPart => {
      return { kind: 'budget', index, text: `"${name}" is limited to ${limit} minutes.` };
    }),
    ...problem.resources.map(({ name, capacity }, index): ConflictPart => {
      return { kind: 'resource', index, text: `There is ${capacity} of "${name}", in its hours.` };
    }),
    ...problem.places.map(({ name }, index): ConflictPart => {
      return { kind: 'place', index, text: `"${name}" holds one car at a time.` };
    }),
    ...problem.jobs.flatMap(({ name, dropOffOpen, pickupOpen }, index): ConflictPart[] => {
      if (dropOffOpen === undefined && pickupOpen === undefined) return [];
      return [{ kind: 'opening', index, text: `"${name}" is dropped off and picked up in opening hours.` }];
    }),
    ...problem.operations.flatMap(({ fixed }, index): ConflictPart[] => {
      if (fixed?.by !== 'frozen') return [];
      return [
        {
          kind: 'fixed',
          index,
          text: `${operation(problem, index)} is frozen to start at ${tellMinute(fixed.start)}.`,
        },
      ];
    }),
    ...problem.operations.flatMap(({ deadline }, index): ConflictPart[] => {
      if (deadline === undefined) return [];
      return [{ kind: 'deadline', index, text: `${operation(problem, index)} ends by ${tellMinute(deadline)}.` }];
    }),
  ];
}

function lagParts(problem: Problem): ConflictPart[] {
  return problem.lags.map(({ from, to, min, max }, index) => {
    const span = max === undefined ? `at least ${min}` : `${min} to ${max}`;
    const text = `From ${edge(problem, from)} to ${edge(problem, to)} lie ${span} minutes.`;
    return { kind: 'lag', index, text };
  });
}

function job(problem: Problem, index: number): string {
  return problem.jobs[index]!.name;
}

export function operation(problem: Problem, index: number): string {
  const { name, job: owner } = problem.operations[index]!;
  return `"${name}" of "${job(problem, owner)}"`;
}

function edge(problem: Problem, at: { readonly operation: number; readonly edge: Edge }): string {
  return `the ${at.edge} of ${operation(problem, at.operation)}`;
}
