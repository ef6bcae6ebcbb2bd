import { ALWAYS } from '../constraints/task.ts';
import { TimeLags } from '../constraints/time-lag.ts';
import { WorkContent } from '../constraints/work-content.ts';
import type { WorkSpan } from '../constraints/work-span.ts';
import { Solver } from '../learn/solver.ts';
import type { Edge, Operation, Problem } from '../problem/problem.ts';
import { modeSpan } from './mode-span.ts';
import { addOrders } from './orders.ts';
import { type Precedence, readPrecedence } from './precedence.ts';
import { addResources } from './resources.ts';

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

/** Whether the mode has not been ruled out from the beginning. */
export function mayBe(bounds: Solver['bounds'], mode: ModelledMode): boolean {
  return mode.presence === ALWAYS || bounds.max(mode.presence) === 1;
}
