import type { Problem } from '../problem/problem.ts';
import { firstUncovered } from './covering.ts';
import { isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';

interface Use {
  readonly from: number;
  readonly to: number;
  readonly amount: number;
  readonly decided: boolean;
  /** The operation, or the second of a held pair; none for what is outside the problem. */
  readonly operation?: number;
}

/**
 * Ensures that people do one thing at a time and equipment is not asked for more than there is, within their hours:
 * worked pieces and held gaps are counted, pauses are not. A sweep over beginnings and ends: O(n log n), n the pieces.
 */
export function checkPeople(plan: PlanRead, report: Report): void {
  const uses = readUses(plan);
  for (const [resource, list] of uses.entries()) {
    checkHours(plan.problem, resource, list, report);
    checkCapacity(plan.problem, resource, list, report);
  }
}

/** The persons a mode of an operation takes, in ascending order. */
export function crewOf(problem: Problem, operation: number, mode: number): readonly number[] {
  const crew: number[] = [];
  for (const { resource } of problem.operations[operation]!.modes[mode]!.uses) {
    if (problem.resources[resource]!.kind === 'person') crew.push(resource);
  }
  return crew.sort(byNumber);
}

function byNumber(a: number, b: number): number {
  return a - b;
}

function readUses({ problem, schedule, pieces }: PlanRead): Use[][] {
  const uses: Use[][] = problem.resources.map(() => []);
  for (let o = 0; o < problem.operations.length; o++) {
    const operation = problem.operations[o]!;
    const planned = schedule.operations[o];
    if (planned == null) continue;
    const decided = !isFact(problem, o);
    for (const { resource, amount } of operation.modes[planned.mode]!.uses) {
      for (const { from, to } of pieces[o]!) uses[resource]!.push({ from, to, amount, decided, operation: o });
    }
  }
  for (const { first, second, held } of problem.sameCrew) {
    const one = schedule.operations[first];
    const other = schedule.operations[second];
    if (!held || one == null || other == null || (isFact(problem, first) && isFact(problem, second))) continue;
    const from = Math.max(one.end, problem.now);
    if (from >= other.start) continue;
    for (const { resource, amount } of problem.operations[first]!.modes[one.mode]!.uses) {
      if (problem.resources[resource]!.kind !== 'person') continue;
      uses[resource]!.push({ from, to: other.start, amount, decided: true, operation: second });
    }
  }
  for (const { resource, amount, from, to } of problem.takenResources) {
    if (from < to) uses[resource]!.push({ from, to, amount, decided: false });
  }
  return uses;
}

function checkHours(problem: Problem, resource: number, uses: readonly Use[], report: Report): void {
  const { open, name } = problem.resources[resource]!;
  if (open === undefined) return;
  for (const use of uses) {
    if (!use.decided || use.amount === 0) continue;
    const closed = firstUncovered(open, use.from, use.to);
    if (closed === undefined) continue;
    const text = `${operationName(problem, use.operation!)} needs "${name}" at minute ${closed}, outside its hours.`;
    report({ invariant: 3, rule: 'hours', text, operations: [use.operation!], stays: [] });
  }
}

function checkCapacity(problem: Problem, resource: number, uses: readonly Use[], report: Report): void {
  const { capacity, name } = problem.resources[resource]!;
  const beginnings = uses.filter(takesSome).sort(byBeginning);
  const ends = [...beginnings].sort(byEnd);
  let inUse = 0;
  let decided = 0;
  let reported = false;
  for (let b = 0, e = 0; b < beginnings.length; ) {
    const minute = beginnings[b]!.from;
    for (; ends[e]!.to <= minute; e++) {
      inUse -= ends[e]!.amount;
      if (ends[e]!.decided) decided--;
      if (inUse <= capacity) reported = false;
    }
    for (; b < beginnings.length && beginnings[b]!.from === minute; b++) {
      inUse += beginnings[b]!.amount;
      if (beginnings[b]!.decided) decided++;
    }
    if (inUse <= capacity || decided === 0 || reported) continue;
    reported = true;
    const operations = operationsAt(beginnings, minute);
    const names = operations.map((operation) => operationName(problem, operation)).join(', ');
    const text = `${names} together need ${inUse} of "${name}" at minute ${minute}; there is ${capacity}.`;
    report({ invariant: 3, rule: 'capacity', text, operations, stays: [] });
  }
}

function takesSome({ amount }: Use): boolean {
  return amount > 0;
}

function byBeginning(a: Use, b: Use): number {
  return a.from - b.from;
}

function byEnd(a: Use, b: Use): number {
  return a.to - b.to;
}

/** The operations of uses that are under way at a minute, in the order of the uses. */
function operationsAt(uses: readonly Use[], minute: number): number[] {
  const operations: number[] = [];
  for (const { from, to, operation } of uses) {
    if (from <= minute && to > minute && operation !== undefined) operations.push(operation);
  }
  return operations;
}

/** Ensures that the same people do both operations of a pair that asks for it. O(pairs x crew). */
export function checkSameCrew({ problem, schedule }: PlanRead, report: Report): void {
  for (const { first, second } of problem.sameCrew) {
    const one = schedule.operations[first];
    const other = schedule.operations[second];
    if (one == null || other == null || (isFact(problem, first) && isFact(problem, second))) continue;
    if (crewOf(problem, first, one.mode).join() === crewOf(problem, second, other.mode).join()) continue;
    const text = `${operationName(problem, first)} and ${operationName(problem, second)} must be done by the same people.`;
    report({ invariant: 3, rule: 'same-crew', text, operations: [first, second], stays: [] });
  }
}
