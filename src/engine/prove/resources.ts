import { Disjunctive, type DisjunctiveTask, GIVEN, NEVER_KNOWN } from '../constraints/disjunctive.ts';
import { Energy } from '../constraints/energy.ts';
import { PausingSpan } from '../constraints/pausing-span.ts';
import { type PausingTask, PausingTimetable } from '../constraints/pausing-timetable.ts';
import { ALWAYS, type Task } from '../constraints/task.ts';
import { type Taken, Timetable } from '../constraints/timetable.ts';
import type { Solver } from '../learn/solver.ts';
import type { Problem } from '../problem/problem.ts';
import type { HeldPerson } from './crews.ts';
import { isFact } from './facts.ts';
import type { Order } from './model.ts';
import { type ModelledOperation, mayBe } from './modelled-operation.ts';
import { pausesFreeNobody } from './pauses.ts';
import type { Precedence } from './precedence.ts';
import { takenOf } from './taken.ts';

/**
 * A timetable for every resource on which orders do not already say all, and a disjunctive set where every two tasks
 * exclude one another. Where a pause frees the resource for other work, the timetable is one that sees pauses.
 */
export function addResources(
  problem: Problem,
  operations: readonly ModelledOperation[],
  orders: readonly Order[],
  solver: Solver,
  precedence: Precedence,
  held: readonly HeldPerson[],
): void {
  const ordered = new Set(orders.map(({ a, b }) => a * operations.length + b));
  for (let r = 0; r < problem.resources.length; r++) {
    const { capacity } = problem.resources[r]!;
    const tasks: PausingTask[] = [];
    const owner: number[] = [];
    for (let o = 0; o < operations.length; o++) {
      if (isFact(problem, o)) continue;
      for (const task of tasksOf(problem, operations[o]!, o, r, solver)) {
        tasks.push(task);
        owner.push(o);
      }
    }
    const plain = pausesFreeNobody(problem, r);
    const holds = held.filter(({ resource }) => resource === r);
    const taken = takenOf(problem, r, plain);
    if (!plain || holds.length > 0) {
      const all = [...tasks, ...holds.map(({ task }) => task)];
      if (all.length > 0) new PausingTimetable(solver, all, capacity, taken);
      continue;
    }
    const disjoint = (i: number, j: number) => {
      const a = Math.min(owner[i]!, owner[j]!);
      const b = Math.max(owner[i]!, owner[j]!);
      if (a === b || precedence.ordered(a, b) || precedence.ordered(b, a)) return true;
      return tasks[i]!.amount + tasks[j]!.amount > capacity && ordered.has(a * operations.length + b);
    };
    const pairwise = tasks.every((_, i) => tasks.every((_, j) => j <= i || disjoint(i, j)));
    if (pairwise && tasks.length > 2) addDisjunctive(operations, tasks, owner, orders, solver, precedence);
    if (tasks.length > 0 && (taken.length > 0 || !pairwise)) new Timetable(solver, tasks, capacity, taken);
    if (!pairwise) addEnergy(solver, tasks, capacity, taken);
  }
}

/** Looks at windows of time, and at the tasks that are always there and last the same whenever they begin. */
function addEnergy(solver: Solver, tasks: readonly Task[], capacity: number, taken: readonly Taken[]): void {
  const steady = tasks.flatMap(({ start, end, endOffset, amount, presence }) =>
    presence === ALWAYS && start === end && endOffset > 0 ? [{ start, minutes: endOffset, amount }] : [],
  );
  if (steady.length > 2) new Energy(solver, steady, capacity, taken);
}

/** Looks at the tasks of a resource that exclude one another as a whole. */
function addDisjunctive(
  operations: readonly ModelledOperation[],
  tasks: readonly Task[],
  owner: readonly number[],
  orders: readonly Order[],
  solver: Solver,
  precedence: Precedence,
): void {
  const firstOf = new Map(orders.map(({ a, b, first }) => [a * operations.length + b, first]));
  const sized = tasks.map((task, k): DisjunctiveTask => {
    const { modes, presence } = operations[owner[k]!]!;
    // One task for all modes is there whenever the operation is; else it is there in its own mode.
    const own = modes.filter((mode) =>
      task.presence === presence ? mayBe(solver.bounds, mode) : mode.presence === task.presence,
    );
    const minutes = Math.min(...own.map(({ span }) => span.minutes ?? 1));
    return { ...task, minutes };
  });
  new Disjunctive(solver, sized, (i, j) => {
    const a = owner[i]!;
    const b = owner[j]!;
    if (a === b) return NEVER_KNOWN;
    if (precedence.ordered(a, b)) return GIVEN;
    if (precedence.ordered(b, a)) return NEVER_KNOWN;
    const first = firstOf.get(Math.min(a, b) * operations.length + Math.max(a, b))!;
    return a < b ? first : first ^ 1;
  });
}

/** The tasks an operation puts on a resource: one when all its modes ask the same, else one a mode. */
function tasksOf(
  problem: Problem,
  modelled: ModelledOperation,
  o: number,
  resource: number,
  solver: Solver,
): PausingTask[] {
  const amountIn = (m: number) => {
    const mode = problem.operations[o]!.modes[m]!;
    return mode.work === 0 ? 0 : (mode.uses.find((use) => use.resource === resource)?.amount ?? 0);
  };
  const possible = modelled.modes.map((_, m) => m).filter((m) => mayBe(solver.bounds, modelled.modes[m]!));
  if (possible.length === 0) return [];
  const amount = amountIn(possible[0]!);
  const { start, end, endOffset, presence: there } = modelled;
  const spans = new Set(possible.map((m) => modelled.modes[m]!.span));
  if (possible.every((m) => amountIn(m) === amount) && (spans.size === 1 || !pauses(possible, modelled))) {
    const span = modelled.modes[possible[0]!]!.span;
    return amount === 0 ? [] : [{ start, end, endOffset, amount, presence: there, span }];
  }
  return possible
    .filter((m) => amountIn(m) > 0)
    .map((m): PausingTask => {
      const { presence, span } = modelled.modes[m]!;
      return span.minutes === undefined
        ? { start, end, endOffset, amount: amountIn(m), presence, span }
        : { start, end: start, endOffset: span.minutes, amount: amountIn(m), presence };
    });
}

function pauses(possible: readonly number[], { modes }: ModelledOperation): boolean {
  return possible.some((m) => modes[m]!.span instanceof PausingSpan);
}
