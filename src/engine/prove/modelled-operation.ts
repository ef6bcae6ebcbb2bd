import { ALWAYS } from '../constraints/task.ts';
import { WorkContent } from '../constraints/work-content.ts';
import type { WorkSpan } from '../constraints/work-span.ts';
import type { Solver } from '../learn/solver.ts';
import type { Edge, Operation, Problem } from '../problem/problem.ts';
import { endOfFact, isFact } from './facts.ts';
import type { Instant, Logic } from './logic.ts';

export interface ModelledOperation {
  /** Even half of the start. */
  readonly start: number;
  /** Even half that, with `endOffset`, is the end. */
  readonly end: number;
  readonly endOffset: number;
  readonly modes: readonly ModelledMode[];
  /** Half of the Boolean that says the operation is there, or ALWAYS. Start, end and mode mean nothing when it is not. */
  readonly presence: number;
}

export interface ModelledMode {
  /** Half of the Boolean that says this mode is taken, or ALWAYS. */
  readonly presence: number;
  readonly span: WorkSpan;
}

export function startOf({ start }: ModelledOperation): Instant {
  return { half: start, offset: 0 };
}

export function endOf({ end, endOffset }: ModelledOperation): Instant {
  return { half: end, offset: endOffset };
}

export function edgeOf(operation: ModelledOperation, edge: Edge): Instant {
  return edge === 'start' ? startOf(operation) : endOf(operation);
}

/** The Boolean that says an operation is there. */
export function presentOf(logic: Logic, { presence }: ModelledOperation): number {
  return presence < 0 ? logic.yes : presence;
}

/** Whether the mode has not been ruled out from the beginning. */
export function mayBe(bounds: Solver['bounds'], mode: ModelledMode): boolean {
  return mode.presence === ALWAYS || bounds.max(mode.presence) === 1;
}

/** An operation as variables; undefined when it must be there and cannot. */
export function modelOperation(
  solver: Solver,
  problem: Problem,
  o: number,
  spans: readonly WorkSpan[],
): ModelledOperation | undefined {
  const operation = problem.operations[o]!;
  if (isFact(problem, o)) return modelFact(solver, problem, o, spans);
  const { bounds } = solver;
  const isOptional = operation.presence === 'optional' && operation.fixed === undefined;
  const possible = possibleModes(problem, operation, spans);
  const latestEnd = Math.min(problem.horizon, operation.deadline ?? problem.horizon);
  const earliest = Math.max(earliestStart(problem, operation), operation.fixed?.start ?? 0);
  let latest = Math.min(latestEnd, operation.fixed?.start ?? latestEnd);
  const minutes = possible.length > 0 ? spans[possible[0]!]!.minutes : undefined;
  const steady = minutes !== undefined && possible.every((m) => spans[m]!.minutes === minutes);
  if (steady) latest = Math.min(latest, latestEnd - minutes);
  if (possible.length === 0 || earliest > latest) {
    if (!isOptional) return undefined;
    const never = bounds.newVariable(0, 0);
    return {
      start: never,
      end: never,
      endOffset: 0,
      modes: spans.map((span) => ({ presence: never, span })),
      presence: never,
    };
  }
  const start = bounds.newVariable(earliest, latest);
  const end = steady ? start : bounds.newVariable(earliest, latestEnd);
  const presence = isOptional ? bounds.newBoolean() : ALWAYS;
  const modes = spans.map((span, m): ModelledMode => {
    if (!possible.includes(m)) return { presence: bounds.newVariable(0, 0), span };
    return { presence: possible.length === 1 ? presence : bounds.newBoolean(), span };
  });
  const chosen = possible.map((m) => modes[m]!);
  if (chosen.length > 1) chooseOne(solver, chosen, presence);
  if (!steady) new WorkContent(solver, start, end, chosen, presence);
  return { start, end, endOffset: steady ? minutes : 0, modes, presence };
}

function earliestStart({ now, jobs }: Problem, operation: Operation): number {
  const job = jobs[operation.job]!;
  // A job with stays is released at its drop-off, not by its operations.
  return Math.max(now, operation.release ?? 0, job.stays.length === 0 ? job.release : 0);
}

function possibleModes(problem: Problem, operation: Operation, spans: readonly WorkSpan[]): number[] {
  const fits = (mode: number) =>
    operation.modes[mode]!.work === 0 ||
    operation.modes[mode]!.uses.every((use) => use.amount <= problem.resources[use.resource]!.capacity);
  return spans.map((_, m) => m).filter((m) => fits(m) && (operation.fixed?.mode ?? m) === m);
}

/** Exactly one of the modes when the operation is there, none when it is not. */
function chooseOne(solver: Solver, modes: readonly ModelledMode[], presence: number): void {
  const absent = presence === ALWAYS ? [] : [presence ^ 1, presence & 1];
  solver.addClause([...absent, ...modes.flatMap((mode) => [mode.presence, 1])]);
  for (let a = 0; a < modes.length; a++) {
    if (presence !== ALWAYS) solver.addClause([modes[a]!.presence ^ 1, 0, presence, 1 - (presence & 1)]);
    for (let b = a + 1; b < modes.length; b++) {
      solver.addClause([modes[a]!.presence ^ 1, 0, modes[b]!.presence ^ 1, 0]);
    }
  }
}

/** What has happened is as it is. */
function modelFact({ bounds }: Solver, problem: Problem, o: number, spans: readonly WorkSpan[]): ModelledOperation {
  const { start, mode } = problem.operations[o]!.fixed!;
  const end = endOfFact(problem, o)!;
  const never = bounds.newVariable(0, 0);
  return {
    start: bounds.newVariable(start, start),
    end: bounds.newVariable(end, end),
    endOffset: 0,
    modes: spans.map((span, m) => ({ presence: m === mode ? ALWAYS : never, span })),
    presence: ALWAYS,
  };
}
