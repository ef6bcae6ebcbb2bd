import { Disjunctive, type DisjunctiveTask, GIVEN, NEVER_KNOWN } from '../constraints/disjunctive.ts';
import { ALWAYS, type Task } from '../constraints/task.ts';
import { Timetable } from '../constraints/timetable.ts';
import type { Solver } from '../learn/solver.ts';
import type { Problem } from '../problem/problem.ts';
import { type ModelledOperation, mayBe, type Order } from './model.ts';
import type { Precedence } from './precedence.ts';
import { takenOf } from './taken.ts';

/**
 * A timetable for every resource on which orders do not already say all, and a disjunctive set where every two tasks
 * exclude one another.
 */
export function addResources(
  problem: Problem,
  operations: readonly ModelledOperation[],
  orders: readonly Order[],
  solver: Solver,
  precedence: Precedence,
): void {
  const ordered = new Set(orders.map(({ a, b }) => a * operations.length + b));
  for (let r = 0; r < problem.resources.length; r++) {
    const { capacity } = problem.resources[r]!;
    const tasks: Task[] = [];
    const owner: number[] = [];
    for (let o = 0; o < operations.length; o++) {
      for (const task of tasksOf(problem, operations[o]!, o, r, solver)) {
        tasks.push(task);
        owner.push(o);
      }
    }
    const taken = takenOf(problem, r);
    const disjoint = (i: number, j: number) => {
      const a = Math.min(owner[i]!, owner[j]!);
      const b = Math.max(owner[i]!, owner[j]!);
      if (a === b || precedence.ordered(a, b) || precedence.ordered(b, a)) return true;
      return tasks[i]!.amount + tasks[j]!.amount > capacity && ordered.has(a * operations.length + b);
    };
    const pairwise = tasks.every((_, i) => tasks.every((_, j) => j <= i || disjoint(i, j)));
    if (pairwise && tasks.length > 2) addDisjunctive(operations, tasks, owner, orders, solver, precedence);
    if (tasks.length > 0 && (taken.length > 0 || !pairwise)) new Timetable(solver, tasks, capacity, taken);
  }
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
    const { modes } = operations[owner[k]!]!;
    const taken = modes.filter((mode) => mayBe(solver.bounds, mode) && task.presence === ALWAYS);
    const own = modes.filter((mode) => mode.presence === task.presence && task.presence !== ALWAYS);
    const minutes = Math.min(...[...taken, ...own].map(({ span }) => span.minutes ?? 1));
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
function tasksOf(problem: Problem, modelled: ModelledOperation, o: number, resource: number, solver: Solver): Task[] {
  const amountIn = (m: number) => {
    const mode = problem.operations[o]!.modes[m]!;
    return mode.work === 0 ? 0 : (mode.uses.find((use) => use.resource === resource)?.amount ?? 0);
  };
  const possible = modelled.modes.map((_, m) => m).filter((m) => mayBe(solver.bounds, modelled.modes[m]!));
  const amount = amountIn(possible[0]!);
  const { start, end, endOffset } = modelled;
  if (possible.every((m) => amountIn(m) === amount)) {
    return amount === 0 ? [] : [{ start, end, endOffset, amount, presence: ALWAYS }];
  }
  return possible
    .filter((m) => amountIn(m) > 0)
    .map((m): Task => {
      const { presence, span } = modelled.modes[m]!;
      return span.minutes === undefined
        ? { start, end, endOffset, amount: amountIn(m), presence }
        : { start, end: start, endOffset: span.minutes, amount: amountIn(m), presence };
    });
}
