import type { AirExclusion, Problem } from '../problem/problem.ts';
import { edgeTime, isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';

interface Span {
  readonly from: number;
  readonly to: number;
  readonly label: number;
  readonly zone: number;
  readonly began: boolean;
  readonly stay: number;
  /** The operations that begin and end it. */
  readonly begins: number;
  readonly ends: number;
}

/**
 * Ensures that in an air zone open coating meets neither dust, mist nor blow-drying, vapour meets no ignition, and dust
 * has settled first. For each exclusion, two spans clash when each begins before the other has settled; a sweep by
 * beginnings keeps, by side, the span that settles last. O(n log n) a zone and O(n) an exclusion, n the spans of its zone.
 */
export function checkAir(plan: PlanRead, report: Report): void {
  const byZone = readSpans(plan);
  for (const exclusion of plan.problem.airExclusions) {
    checkExclusion(plan.problem, exclusion, byZone[exclusion.zone]!, report);
  }
}

/** The spans of each zone, by their beginning. */
function readSpans({ problem, schedule, stops }: PlanRead): Span[][] {
  const byZone: Span[][] = problem.zones.map(() => []);
  for (const { label, stay, from, to } of problem.airSpans) {
    const begins = schedule.operations[from.operation];
    const ends = schedule.operations[to.operation];
    const stop = stops[stay];
    if (begins == null || ends == null || stop === undefined) continue;
    const zone = problem.places[stop.place]!.zone;
    const begin = edgeTime(begins, from.edge);
    const end = edgeTime(ends, to.edge);
    if (zone === undefined || end <= begin) continue;
    byZone[zone]!.push({
      from: begin,
      to: end,
      label,
      zone,
      began: isFact(problem, from.operation),
      stay,
      begins: from.operation,
      ends: to.operation,
    });
  }
  for (const spans of byZone) spans.sort(byBeginning);
  return byZone;
}

function byBeginning(a: Span, b: Span): number {
  return a.from - b.from;
}

/** Of the spans on one side of an exclusion so far, the one that settles last: of those still planned, and of those that began. */
class LastToSettle {
  readonly settleMinutes: number;
  planned: Span | undefined;
  begun: Span | undefined;

  constructor(settleMinutes: number) {
    this.settleMinutes = settleMinutes;
  }

  add(span: Span): void {
    if (span.began) {
      if (this.begun === undefined || this.begun.to < span.to) this.begun = span;
    } else if (this.planned === undefined || this.planned.to < span.to) this.planned = span;
  }
}

function checkExclusion(problem: Problem, exclusion: AirExclusion, spans: readonly Span[], report: Report): void {
  const { first, second, settleAfterFirst, settleAfterSecond } = exclusion;
  const alike = first === second;
  const firsts = new LastToSettle(alike ? Math.max(settleAfterFirst, settleAfterSecond) : settleAfterFirst);
  const seconds = alike ? firsts : new LastToSettle(settleAfterSecond);
  for (const span of spans) {
    if (span.label !== first && span.label !== second) continue;
    const own = span.label === first ? firsts : seconds;
    const { planned, begun, settleMinutes } = own === firsts ? seconds : firsts;
    if (planned !== undefined && planned.to + settleMinutes > span.from) {
      reportClash(problem, planned, planned.to + settleMinutes, span, report);
    }
    if (begun !== undefined && !span.began && begun.to + settleMinutes > span.from) {
      reportClash(problem, begun, begun.to + settleMinutes, span, report);
    }
    own.add(span);
  }
}

function reportClash(problem: Problem, before: Span, settledAt: number, after: Span, report: Report): void {
  const text = `In the air of "${problem.zones[before.zone]}", ${describe(problem, after)} begins before ${describe(problem, before)} has settled at ${settledAt}.`;
  const operations = [...new Set([before.begins, before.ends, after.begins, after.ends])];
  const stays = [...new Set([before.stay, after.stay])];
  report({ invariant: 5, rule: 'air', text, operations, stays });
}

function describe(problem: Problem, { label, begins, from, to }: Span): string {
  return `${problem.airLabels[label]} from ${operationName(problem, begins)} (minute ${from} to ${to})`;
}
