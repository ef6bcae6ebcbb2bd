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
  readonly operations: readonly [number, number];
}

/** One span seen from one exclusion: as its first or second kind of air, and with the settling it asks for. */
interface Claim {
  readonly span: Span;
  readonly side: 0 | 1;
  readonly settledAt: number;
}

/**
 * Ensures that in an air zone open coating meets neither dust, mist nor blow-drying, vapour meets no ignition, and dust
 * has settled first. For each exclusion, two spans clash when each begins before the other has settled; a sweep by
 * beginnings keeps, by side, the span that settles last. O(n log n) an exclusion, n the spans of its zone.
 */
export function checkAir(plan: PlanRead, report: Report): void {
  const byZone: Span[][] = plan.problem.zones.map(() => []);
  for (const span of readSpans(plan)) byZone[span.zone]!.push(span);
  for (const exclusion of plan.problem.airExclusions) {
    checkExclusion(plan.problem, exclusion, byZone[exclusion.zone]!, report);
  }
}

function readSpans({ problem, schedule, stops }: PlanRead): Span[] {
  return problem.airSpans.flatMap(({ label, stay, from, to }) => {
    const begins = schedule.operations[from.operation];
    const ends = schedule.operations[to.operation];
    const stop = stops[stay];
    if (begins == null || ends == null || stop === undefined) return [];
    const zone = problem.places[stop.place]!.zone;
    const span = { from: edgeTime(begins, from.edge), to: edgeTime(ends, to.edge), label, stay };
    if (zone === undefined || span.to <= span.from) return [];
    const began = isFact(problem, from.operation);
    return [{ ...span, zone, began, operations: [from.operation, to.operation] as const }];
  });
}

function checkExclusion(problem: Problem, exclusion: AirExclusion, spans: readonly Span[], report: Report): void {
  const { first, second, settleAfterFirst, settleAfterSecond } = exclusion;
  const claims: Claim[] = [];
  for (const span of spans) {
    if (first === second && span.label === first) {
      claims.push({ span, side: 0, settledAt: span.to + Math.max(settleAfterFirst, settleAfterSecond) });
    } else if (span.label === first) {
      claims.push({ span, side: 0, settledAt: span.to + settleAfterFirst });
    } else if (span.label === second) {
      claims.push({ span, side: 1, settledAt: span.to + settleAfterSecond });
    }
  }
  claims.sort((a, b) => a.span.from - b.span.from);
  const latest: (Claim | undefined)[][] = [
    [undefined, undefined],
    [undefined, undefined],
  ];
  for (const claim of claims) {
    const opposite = first === second ? 0 : 1 - claim.side;
    for (const began of [0, 1]) {
      const before = latest[opposite]![began];
      if (before === undefined || before.settledAt <= claim.span.from || (began === 1 && claim.span.began)) continue;
      reportClash(problem, before, claim, report);
    }
    const began = claim.span.began ? 1 : 0;
    const known = latest[claim.side]![began];
    if (known === undefined || known.settledAt < claim.settledAt) latest[claim.side]![began] = claim;
  }
}

function reportClash(problem: Problem, before: Claim, after: Claim, report: Report): void {
  const describe = ({ span }: Claim) =>
    `${problem.airLabels[span.label]} from ${operationName(problem, span.operations[0])} (minute ${span.from} to ${span.to})`;
  const text = `In the air of "${problem.zones[before.span.zone]}", ${describe(after)} begins before ${describe(before)} has settled at ${before.settledAt}.`;
  const operations = [...new Set([...before.span.operations, ...after.span.operations])];
  const stays = [...new Set([before.span.stay, after.span.stay])];
  report({ invariant: 5, rule: 'air', text, operations, stays });
}
