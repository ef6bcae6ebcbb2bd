import { Disjunctive, type DisjunctiveTask, GIVEN, NEVER_KNOWN } from '../constraints/disjunctive.ts';
import { ALWAYS, type Task } from '../constraints/task.ts';
import { TimeLags } from '../constraints/time-lag.ts';
import { Timetable } from '../constraints/timetable.ts';
import { WorkContent } from '../constraints/work-content.ts';
import type { WorkSpan } from '../constraints/work-span.ts';
import { Solver } from '../learn/solver.ts';
import type { Edge, Operation, Problem } from '../problem/problem.ts';
import { modeSpan } from './mode-span.ts';
import { type Precedence, readPrecedence } from './precedence.ts';
import { takenOf } from './taken.ts';

export interface ModelledOperation {
  /** Even half of the start. */
  readonly start: number;
  /** Even half that, with `endOffset`, is the end. */
  readonly end: number;
  readonly endOffset: number;
  readonly modes: readonly ModelledMode[];
}

export interface ModelledMode {
  /** Half of the Boolean that says this mode is taken, or ALWAYS. */
  readonly presence: number;
  readonly span: WorkSpan;
}

/** Two operations that may not overlap; the Boolean `first` says that `a` comes before `b`. */
export interface Order {
  readonly a: number;
  readonly b: number;
  readonly first: number;
}

/** The problem as variables and constraints of a learning solver, without an objective. */
export interface Model {
  readonly solver: Solver;
  readonly lags: TimeLags;
  readonly operations: readonly ModelledOperation[];
  readonly orders: readonly Order[];
  readonly precedence: Precedence;
}

/** Builds the model; undefined when the problem contradicts itself before any search. */
export function buildModel(problem: Problem, decay: number): Model | undefined {
  const spans = problem.operations.map((operation) =>
    operation.modes.map((mode) => modeSpan(problem, operation, mode)),
  );
  const precedence = readPrecedence(problem, spans);
  if (precedence.contradictory) return undefined;
  const solver = new Solver(decay);
  const lags = new TimeLags(solver);
  const operations: ModelledOperation[] = [];
  for (let o = 0; o < problem.operations.length; o++) {
    const modelled = modelOperation(solver, problem, problem.operations[o]!, spans[o]!);
    if (modelled === undefined) return undefined;
    operations.push(modelled);
  }
  const edge = (operation: number, at: Edge) => {
    const { start, end, endOffset } = operations[operation]!;
    return at === 'start' ? { half: start, offset: 0 } : { half: end, offset: endOffset };
  };
  for (const lag of problem.lags) {
    const from = edge(lag.from.operation, lag.from.edge);
    const to = edge(lag.to.operation, lag.to.edge);
    const shift = from.offset - to.offset;
    if (from.half === to.half) {
      if (shift + lag.min > 0 || (lag.max !== undefined && shift + lag.max < 0)) return undefined;
      continue;
    }
    lags.add(from.half, to.half, shift + lag.min);
    if (lag.max !== undefined) lags.add(to.half, from.half, -shift - lag.max);
  }
  const orders = addOrders(problem, operations, solver, lags, precedence);
  addResources(problem, operations, orders, solver, precedence);
  return { solver, lags, operations, orders, precedence };
}

function modelOperation(
  solver: Solver,
  problem: Problem,
  operation: Operation,
  spans: readonly WorkSpan[],
): ModelledOperation | undefined {
  const { bounds } = solver;
  const job = problem.jobs[operation.job]!;
  const latestEnd = Math.min(problem.horizon, operation.deadline ?? problem.horizon);
  let earliest = Math.max(problem.now, operation.release ?? 0, job.release);
  let latest = latestEnd;
  const fits = (mode: number) =>
    operation.modes[mode]!.work === 0 ||
    operation.modes[mode]!.uses.every((use) => use.amount <= problem.resources[use.resource]!.capacity);
  const possible = spans.map((_, m) => m).filter((m) => fits(m) && (operation.fixed?.mode ?? m) === m);
  if (operation.fixed !== undefined) {
    earliest = Math.max(earliest, operation.fixed.start);
    latest = Math.min(latest, operation.fixed.start);
  }
  if (possible.length === 0 || earliest > latest) return undefined;
  const minutes = spans[possible[0]!]!.minutes;
  const steady = minutes !== undefined && possible.every((m) => spans[m]!.minutes === minutes);
  if (steady) latest = Math.min(latest, latestEnd - minutes);
  if (earliest > latest) return undefined;
  const start = bounds.newVariable(earliest, latest);
  const end = steady ? start : bounds.newVariable(earliest, latestEnd);
  const modes = spans.map((span, m): ModelledMode => {
    if (!possible.includes(m)) return { presence: bounds.newVariable(0, 0), span };
    return { presence: possible.length === 1 ? ALWAYS : bounds.newBoolean(), span };
  });
  const chosen = possible.map((m) => modes[m]!);
  if (chosen.length > 1) {
    solver.addClause(chosen.flatMap((mode) => [mode.presence, 1]));
    for (let a = 0; a < chosen.length; a++) {
      for (let b = a + 1; b < chosen.length; b++) {
        solver.addClause([chosen[a]!.presence ^ 1, 0, chosen[b]!.presence ^ 1, 0]);
      }
    }
  }
  if (!steady) new WorkContent(solver, start, end, chosen);
  return { start, end, endOffset: steady ? minutes : 0, modes };
}

/** Whether two modes together ask for more of some resource than there is. */
function clash(problem: Problem, a: number, modeOfA: number, b: number, modeOfB: number): boolean {
  const one = problem.operations[a]!.modes[modeOfA]!;
  const other = problem.operations[b]!.modes[modeOfB]!;
  if (one.work === 0 || other.work === 0) return false;
  return one.uses.some((use) => {
    const same = other.uses.find((u) => u.resource === use.resource);
    return same !== undefined && use.amount + same.amount > problem.resources[use.resource]!.capacity;
  });
}

function addOrders(
  problem: Problem,
  operations: readonly ModelledOperation[],
  solver: Solver,
  lags: TimeLags,
  precedence: Precedence,
): Order[] {
  const orders: Order[] = [];
  const { bounds } = solver;
  for (let a = 0; a < operations.length; a++) {
    for (let b = a + 1; b < operations.length; b++) {
      if (precedence.ordered(a, b) || precedence.ordered(b, a)) continue;
      const pairs: [number, number][] = [];
      for (let m = 0; m < operations[a]!.modes.length; m++) {
        for (let k = 0; k < operations[b]!.modes.length; k++) {
          const possible = mayBe(bounds, operations[a]!.modes[m]!) && mayBe(bounds, operations[b]!.modes[k]!);
          if (possible && clash(problem, a, m, b, k)) pairs.push([m, k]);
        }
      }
      if (pairs.length === 0) continue;
      const first = bounds.newBoolean();
      orders.push({ a, b, first });
      addOneWay(operations[a]!, operations[b]!, first, pairs, lags);
      const turned = pairs.map(([m, k]): [number, number] => [k, m]);
      addOneWay(operations[b]!, operations[a]!, first ^ 1, turned, lags);
    }
  }
  return orders;
}

function mayBe(bounds: Solver['bounds'], mode: ModelledMode): boolean {
  return mode.presence === ALWAYS || bounds.max(mode.presence) === 1;
}

/** Under `order`, and the two modes of each pair, `before` ends by the start of `after`. */
function addOneWay(
  before: ModelledOperation,
  after: ModelledOperation,
  order: number,
  pairs: readonly (readonly [number, number])[],
  lags: TimeLags,
): void {
  for (const [m, k] of pairs) {
    const mode = before.modes[m]!;
    const conditions = [order];
    if (mode.presence !== ALWAYS) conditions.push(mode.presence);
    if (after.modes[k]!.presence !== ALWAYS) conditions.push(after.modes[k]!.presence);
    if (mode.span.minutes !== undefined) lags.add(before.start, after.start, mode.span.minutes, conditions);
    else lags.add(before.end, after.start, before.endOffset, conditions);
  }
}

function addResources(
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
