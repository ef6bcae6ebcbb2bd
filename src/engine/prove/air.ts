import type { AirSpan, Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Instant, Logic } from './logic.ts';
import { edgeOf, type ModelledOperation, presentOf } from './modelled-operation.ts';
import type { EdgeNode, Precedence } from './precedence.ts';
import type { Itinerary, ModelledStay } from './stays.ts';

/** A span of air as variables. */
interface Span {
  readonly span: AirSpan;
  readonly from: Instant;
  readonly to: Instant;
  readonly stay: ModelledStay;
  /** Both operations are there. */
  readonly present: number;
  readonly began: boolean;
}

/**
 * Ensures that two kinds of air that exclude one another do not meet in a zone, and that each has settled before the
 * other begins: of every two such spans one comes first, unless they lie in different zones or one of them is void.
 */
export function addAir(
  problem: Problem,
  operations: readonly ModelledOperation[],
  itineraries: readonly Itinerary[],
  precedence: Precedence,
  logic: Logic,
): void {
  const stays = new Map(itineraries.flatMap((each) => each.stays.map((stay) => [stay.stay, stay] as const)));
  const spans = problem.airSpans.map((span): Span => {
    const begins = operations[span.from.operation]!;
    const ends = operations[span.to.operation]!;
    return {
      span,
      from: edgeOf(begins, span.from.edge),
      to: edgeOf(ends, span.to.edge),
      stay: stays.get(span.stay)!,
      present: logic.all([presentOf(logic, begins), presentOf(logic, ends)]),
      began: isFact(problem, span.from.operation),
    };
  });
  const keepApart = (zone: number, one: Span, other: Span, settleOne: number, settleOther: number) => {
    if (one.began && other.began) return;
    const meet = logic.all([
      one.present,
      other.present,
      inZone(problem, logic, one.stay, zone),
      inZone(problem, logic, other.stay, zone),
    ]);
    if (logic.isFalse(meet)) return;
    const apart = (before: Span, after: Span, settle: number) =>
      precedence.gap(node(before.span.to), node(after.span.from)) >= settle;
    if (apart(one, other, settleOne) || apart(other, one, settleOther)) return;
    const voids = [one, other].filter(({ span }) => precedence.gap(node(span.from), node(span.to)) < 1);
    logic.oneOf(
      [meet],
      [
        [{ from: one.to, to: other.from, gap: settleOne }],
        [{ from: other.to, to: one.from, gap: settleOther }],
        ...voids.map((each) => [{ from: each.to, to: each.from, gap: 0 }]),
      ],
    );
  };
  for (const { zone, first, second, settleAfterFirst, settleAfterSecond } of problem.airExclusions) {
    const longest = Math.max(settleAfterFirst, settleAfterSecond);
    for (const [k, one] of spans.entries()) {
      if (one.span.label !== first) continue;
      for (const other of first === second ? spans.slice(k + 1) : spans) {
        if (other.span.label !== second) continue;
        if (first === second) keepApart(zone, one, other, longest, longest);
        else keepApart(zone, one, other, settleAfterFirst, settleAfterSecond);
      }
    }
  }
}

function node({ operation, edge }: AirSpan['from']): EdgeNode {
  return { operation, edge };
}

/** The Boolean that says the stay takes a place of the zone. */
function inZone({ places }: Problem, logic: Logic, stay: ModelledStay, zone: number): number {
  if (stay.places.every(({ place }) => places[place]!.zone === zone)) return stay.present;
  return logic.any(stay.places.filter(({ place }) => places[place]!.zone === zone).map(({ chosen }) => chosen));
}
