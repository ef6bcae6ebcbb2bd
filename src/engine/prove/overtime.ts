import { WorkedPieces } from '../calendar/worked-pieces.ts';
import { type CostByStart, TableCost } from '../constraints/cost-by-start.ts';
import { PausingSpan } from '../constraints/pausing-span.ts';
import { StartCost } from '../constraints/start-cost.ts';
import type { Term } from '../constraints/weighted-sum.ts';
import { CalendarSpan, type WorkSpan } from '../constraints/work-span.ts';
import type { Interval, Mode, Problem } from '../problem/problem.ts';
import { isFact, piecesOfFact } from './facts.ts';
import type { Model } from './model.ts';
import { mayBe } from './modelled-operation.ts';

/**
 * Worked minutes in authorised overtime, over operations and the resources they use: by operation a term that is at least
 * what its mode and start make of it, and what facts have made.
 */
export function addOvertime(problem: Problem, { solver, operations }: Model): [Term[], number] {
  const overtime = problem.resources.map((resource) => resource.overtime && prefix(resource.overtime, problem));
  const known = new Map<string, { cost: TableCost; most: number }>();
  const terms: Term[] = [];
  let constant = 0;
  for (const [o, operation] of problem.operations.entries()) {
    const counted = operation.modes.map((mode) => countedFor(mode, overtime));
    if (counted.every((minutes) => minutes.length === 0)) continue;
    if (isFact(problem, o)) {
      for (const minutes of counted[operation.fixed!.mode!]!) {
        for (const { from, to } of piecesOfFact(problem, o)) constant += within(minutes, from, to);
      }
      continue;
    }
    const { start, modes, presence } = operations[o]!;
    let most = 0;
    const costed = modes.flatMap((mode, m) => {
      if (!mayBe(solver.bounds, mode)) return [];
      const resources = resourcesIn(operation.modes[m]!);
      if (counted[m]!.length === 0 || operation.modes[m]!.work === 0) return [{ presence: mode.presence, cost: FREE }];
      const key = `${spanNumber(mode.span)}/${resources.join()}`;
      let table = known.get(key);
      if (table === undefined) {
        table = tableOf(mode.span, counted[m]!, problem.horizon);
        known.set(key, table);
      }
      most = Math.max(most, table.most);
      return [{ presence: mode.presence, cost: table.cost }];
    });
    if (most === 0) continue;
    const cost = solver.bounds.newVariable(0, most);
    new StartCost(solver, start, cost, costed, presence);
    terms.push({ half: cost, weight: 1 });
  }
  return [terms, constant];
}

const FREE: CostByStart = {
  least: () => 0,
  firstAtMost: (minute) => minute,
  lastAtMost: (minute) => minute,
};

const numbers = new WeakMap<WorkSpan, number>();
let spans = 0;

/** A number for each table of beginnings, so that modes that share one share what it costs. */
function spanNumber(span: WorkSpan): number {
  let number = numbers.get(span);
  if (number === undefined) {
    number = spans++;
    numbers.set(span, number);
  }
  return number;
}

function resourcesIn({ uses }: Mode): number[] {
  return uses.filter(({ amount }) => amount > 0).map(({ resource }) => resource);
}

function countedFor(mode: Mode, overtime: readonly (Int32Array | undefined)[]): Int32Array[] {
  return resourcesIn(mode).flatMap((resource) => overtime[resource] ?? []);
}

function tableOf(span: WorkSpan, counted: readonly Int32Array[], horizon: number): { cost: TableCost; most: number } {
  const pieces = new WorkedPieces();
  const starts = span instanceof CalendarSpan ? span.starts : Int32Array.from({ length: horizon + 1 }, (_, t) => t);
  const costs = new Int32Array(starts.length);
  let most = 0;
  for (let s = 0; s < starts.length; s++) {
    const start = starts[s]!;
    const end = span.end(start);
    if (span instanceof PausingSpan) span.writePieces(start, pieces);
    else {
      pieces.from[0] = start;
      pieces.to[0] = end;
      pieces.count = 1;
    }
    let cost = 0;
    for (let k = 0; k < pieces.count; k++) {
      for (const minutes of counted) cost += within(minutes, pieces.from[k]!, pieces.to[k]!);
    }
    costs[s] = cost;
    most = Math.max(most, cost);
  }
  return { cost: new TableCost(starts, costs), most };
}

/** Prefix counts of the minutes of overtime, as far as anything may reach. */
function prefix(intervals: readonly Interval[], { horizon }: Problem): Int32Array {
  const last = intervals.at(-1)?.to ?? 0;
  const length = Math.max(horizon, last);
  const count = new Int32Array(length + 1);
  for (const { from, to } of intervals) for (let t = from; t < to; t++) count[t + 1] = 1;
  for (let t = 0; t < length; t++) count[t + 1]! += count[t]!;
  return count;
}

function within(count: Int32Array, from: number, to: number): number {
  const last = count.length - 1;
  return count[Math.min(to, last)]! - count[Math.min(from, last)]!;
}
