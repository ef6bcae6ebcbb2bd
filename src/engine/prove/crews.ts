import type { Task } from '../constraints/task.ts';
import type { Problem } from '../problem/problem.ts';
import { endOfFact, isFact } from './facts.ts';
import { gapsBetween, type Instant, type Logic } from './logic.ts';
import { endOf, type ModelledOperation, presentOf, startOf } from './modelled-operation.ts';

/** A person kept from the end of one operation to the start of another. */
export interface HeldPerson {
  readonly resource: number;
  readonly task: Task;
}

/**
 * Ensures that the same people do both operations of a pair that asks for it: a mode of one is taken only with a mode
 * of the other that has the same persons. Where they are held between, each of them is there all that time, and busy; returned
 * as tasks for the timetables of their time.
 */
export function addCrews(problem: Problem, operations: readonly ModelledOperation[], logic: Logic): HeldPerson[] {
  const held: HeldPerson[] = [];
  for (const pair of problem.sameCrew) {
    const { first, second } = pair;
    if (isFact(problem, first) && isFact(problem, second)) continue;
    support(problem, operations, logic, first, second);
    support(problem, operations, logic, second, first);
    if (pair.held) held.push(...hold(problem, operations, logic, first, second));
  }
  return held;
}

/** Each mode of one operation needs one of the other's with the same persons, when the other is there. */
function support(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
  one: number,
  other: number,
): void {
  const otherIsThere = presentOf(logic, operations[other]!);
  for (const m of problem.operations[one]!.modes.keys()) {
    const crew = crewOf(problem, one, m);
    const matching = problem.operations[other]!.modes.flatMap((_, k) =>
      crewOf(problem, other, k) === crew ? [taken(logic, operations, other, k)] : [],
    );
    logic.implies([taken(logic, operations, one, m), otherIsThere], ...matching);
  }
}

/** The persons of a mode, as text to compare. */
export function crewOf(problem: Problem, operation: number, mode: number): string {
  return problem.operations[operation]!.modes[mode]!.uses.map(({ resource }) => resource)
    .filter((resource) => problem.resources[resource]!.kind === 'person')
    .sort((a, b) => a - b)
    .join();
}

function taken(logic: Logic, operations: readonly ModelledOperation[], operation: number, mode: number): number {
  const { presence } = operations[operation]!.modes[mode]!;
  return presence < 0 ? logic.yes : presence;
}

function hold(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
  first: number,
  second: number,
): HeldPerson[] {
  const from = heldFrom(problem, operations, logic, first);
  const to = startOf(operations[second]!);
  const { bounds } = logic.solver;
  // A task's start has no offset.
  const start = logic.newInstant(bounds.min(from.half) + from.offset, bounds.max(from.half) + from.offset);
  logic.same(from, start);
  const secondIsThere = presentOf(logic, operations[second]!);
  return problem.operations[first]!.modes.flatMap(({ uses }, m) => {
    const there = logic.all([taken(logic, operations, first, m), secondIsThere]);
    if (logic.isFalse(there)) return [];
    return uses.flatMap(({ resource, amount }): HeldPerson[] => {
      const { kind, open } = problem.resources[resource]!;
      if (kind !== 'person' || amount === 0) return [];
      for (const gap of open === undefined ? [] : gapsBetween(open)) {
        logic.notIn(start, to, gap.from + 1, gap.to, [there]);
      }
      const presence = logic.presence(there);
      return [{ resource, task: { start: start.half, end: to.half, endOffset: to.offset, amount, presence } }];
    });
  });
}

/** What has happened holds nobody before now. */
function heldFrom(problem: Problem, operations: readonly ModelledOperation[], logic: Logic, first: number): Instant {
  if (!isFact(problem, first)) return endOf(operations[first]!);
  return logic.minute(Math.max(endOfFact(problem, first)!, problem.now));
}
