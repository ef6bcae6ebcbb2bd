import type { BudgetWindows } from '../../engine/calendar/budget-windows.ts';
import { NEVER } from '../../engine/calendar/never.ts';
import { WorkedPieces } from '../../engine/calendar/worked-pieces.ts';
import type { CompiledPlan } from './compile-plan.ts';
import type { NodeRules } from './node-rules.ts';
import type { ExecutionRules } from './simulation-input.ts';
import type { WorkedLog } from './worked-log.ts';

/** Rules of a node push each other on at most this often before the start is taken as it is. */
const MOST_ROUNDS = 64;

/**
 * When work may begin: nobody knows how long it will take, so it begins where the work as planned fits its crew's
 * hours, conditions, budget and pauses.
 */
export class BeginWork {
  readonly #plan: CompiledPlan;
  readonly #log: WorkedLog;
  readonly #graceMinutes: number;
  readonly #stayOnMinutes: number;
  readonly #pieces = new WorkedPieces();
  #fits = false;

  constructor(plan: CompiledPlan, log: WorkedLog, { graceMinutes, stayOnMinutes }: ExecutionRules) {
    this.#graceMinutes = graceMinutes;
    this.#stayOnMinutes = stayOnMinutes;
    this.#plan = plan;
    this.#log = log;
  }

  /** The earliest start at or after `from`; NEVER when there is none. */
  earliest(node: number, from: number): number {
    const rules = this.#plan.rules[node]!;
    if (rules.plain) return this.#inHours(node, rules, from);
    let start = from;
    this.#fits = false;
    for (let round = 0; round < MOST_ROUNDS && start < NEVER && !this.#fits; round++) {
      start = this.#pushed(node, rules, start);
    }
    return Math.min(NEVER, start);
  }

  /** The end if the work takes what was planned; its crew stays on for the last minutes of what cannot pause. */
  plannedEnd(node: number, start: number): number {
    const { calendar, budget, pausable } = this.#plan.rules[node]!;
    const work = this.#plan.work[node]!;
    if (calendar === null) return Math.min(NEVER, start + work);
    if (!pausable && work > 0) {
      const end = calendar.endStayingOn(start, work, this.#stayOnMinutes);
      if (end >= 0) return end;
    }
    if (budget !== null) return this.#pieces.ofWork(calendar, budget, start, work, NEVER);
    return calendar.endOfShort(start, work);
  }

  #inHours(node: number, { calendar, pausable }: NodeRules, from: number): number {
    const work = this.#plan.work[node]!;
    if (calendar === null || work === 0 || from >= NEVER) return from;
    if (pausable) return calendar.nextOpen(from);
    // Whoever is behind the plan does not leave work for tomorrow because of its last minutes.
    const behind = from >= this.#plan.nodes.start[node]!;
    const grace = behind ? Math.min(this.#graceMinutes, work >> 2) : 0;
    const unbroken = calendar.nextUnbroken(from, work - grace);
    // Work longer than any stretch of hours begins with one.
    return unbroken < NEVER ? unbroken : calendar.nextOpen(from);
  }

  /** A start that is no earlier; `#fits` tells whether nothing objects to it any more. */
  #pushed(node: number, rules: NodeRules, from: number): number {
    const work = this.#plan.work[node]!;
    const opened = rules.opening === null ? from : rules.opening.nextInside(from);
    const start = this.#inHours(node, rules, opened);
    if (start >= NEVER) return NEVER;
    if (rules.opening !== null && start > opened && !rules.opening.contains(start)) return start;
    const limited = rules.calendar !== null && (rules.budget !== null || rules.limitsPauses);
    const quick = limited ? this.#log.endInOneGo(rules.calendar!, rules.budget, start, work) : -1;
    const inPieces = limited && quick < 0;
    const end =
      quick >= 0
        ? quick
        : inPieces
          ? this.#pieces.ofWork(rules.calendar!, rules.budget, start, work, NEVER)
          : this.plannedEnd(node, start);
    this.#fits = true;
    if (end >= NEVER) return start;
    const later = this.#objection(rules, start, end, inPieces);
    this.#fits = later <= start;
    return Math.max(start, later);
  }

  /** A later start that the first rule broken by [start, end) asks for; `start` when none is broken. */
  #objection(rules: NodeRules, start: number, end: number, inPieces: boolean): number {
    const { hours, allowed, clearOf } = rules;
    for (let k = 0; k < hours.length; k++) {
      if (!hours[k]!.contains(start)) return hours[k]!.nextInside(start);
      if (!rules.pausable && !hours[k]!.encloses(start, end)) return hours[k]!.nextFrom(start);
    }
    if (allowed !== null && !allowed.encloses(start, end)) {
      return allowed.contains(start) && end > start ? allowed.nextFrom(start) : allowed.nextInside(start);
    }
    if (inPieces && rules.limitsPauses) {
      const later = this.#pastPauses(rules, start);
      if (later > start) return later;
    }
    if (inPieces && rules.budget !== null) {
      const later = this.#pastSpentBudget(rules, rules.budget, start);
      if (later > start) return later;
    }
    for (let k = 0; k < clearOf.length; k++) {
      const later = this.#pastPieces(clearOf[k]!, start, end);
      if (later > start) return later;
    }
    return start;
  }

  /** Past a pause that comes too early or lasts too long, in the pieces at hand. */
  #pastPauses({ leastFirstPiece, longestPause }: NodeRules, start: number): number {
    const pieces = this.#pieces;
    if (pieces.count < 2) return start;
    if (pieces.to[0]! - pieces.from[0]! < leastFirstPiece) return pieces.from[1]!;
    for (let k = 1; k < pieces.count; k++) {
      if (pieces.from[k]! - pieces.to[k - 1]! > longestPause) return pieces.from[k]!;
    }
    return start;
  }

  /** Past a window of the budget in which the pieces at hand would draw more than is left. */
  #pastSpentBudget(rules: NodeRules, budget: BudgetWindows, start: number): number {
    const pieces = this.#pieces;
    let window = -1;
    let minutes = 0;
    for (let k = 0; k < pieces.count; k++) {
      for (let w = budget.windowAt(pieces.from[k]!); w < budget.from.length && budget.from[w]! < pieces.to[k]!; w++) {
        if (w !== window) minutes = 0;
        window = w;
        minutes += Math.min(pieces.to[k]!, budget.to[w]!) - Math.max(pieces.from[k]!, budget.from[w]!);
        const left = budget.limit - this.#log.drawn[budget.firstCounter + w]!;
        if (minutes > left) return this.#pastAllBut(rules, budget.to[w]!, Math.max(0, left));
      }
    }
    return start;
  }

  /** When only so many working minutes of a window are still to come; unpausable work waits for the next window. */
  #pastAllBut({ calendar, pausable }: NodeRules, windowEnds: number, minutes: number): number {
    return pausable ? calendar!.minuteWorked(calendar!.minutesAt(windowEnds) - minutes) : windowEnds;
  }

  #pastPieces(other: number, start: number, end: number): number {
    const log = this.#log;
    const first = log.firstPiece(other);
    for (let p = first; p < first + log.pieceCount[other]!; p++) {
      if (log.pieceFrom[p]! < Math.max(end, start + 1) && log.pieceTo[p]! > start) return log.pieceTo[p]!;
    }
    return start;
  }
}
