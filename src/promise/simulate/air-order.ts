import { edgesOf, type PlanOrder, WAIT } from './arcs.ts';
import { ABSENT, ON_DEMAND, type PlanNodes } from './plan-nodes.ts';

interface PlannedSpan {
  readonly label: number;
  readonly from: number;
  readonly fromEnd: boolean;
  readonly to: number;
  readonly toEnd: boolean;
  readonly begins: number;
  readonly ends: number;
  readonly onDemand: boolean;
}

/** Keeps the plan's sequence of kinds of air that may not meet in a zone, with the time the air needs to settle. */
export function addAirOrder(nodes: PlanNodes, order: PlanOrder): void {
  const { problem } = nodes;
  const byZone = spansByZone(nodes);
  for (const { zone, first, second, settleAfterFirst, settleAfterSecond } of problem.airExclusions) {
    const spans = byZone[zone]!;
    const settle = first === second ? Math.max(settleAfterFirst, settleAfterSecond) : 0;
    for (const before of spans) {
      if (before.label !== first && before.label !== second) continue;
      const opposite = before.label === first ? second : first;
      const settles = first === second ? settle : before.label === first ? settleAfterFirst : settleAfterSecond;
      for (const after of spans) {
        if (after === before || after.label !== opposite) continue;
        if (before.ends + (before.onDemand || after.onDemand ? 0 : settles) > after.begins) continue;
        order.add(before.to, after.from, edgesOf(before.toEnd, after.fromEnd), settles, WAIT.air, zone);
      }
    }
  }
}

function spansByZone({ problem, schedule, presence, start, end }: PlanNodes): PlannedSpan[][] {
  const byZone: PlannedSpan[][] = [];
  for (let zone = 0; zone < problem.zones.length; zone++) byZone.push([]);
  for (const { label, stay, from, to } of problem.airSpans) {
    const stop = schedule.stays[stay];
    if (stop == null || presence[from.operation] === ABSENT || presence[to.operation] === ABSENT) continue;
    const zone = problem.places[stop.place]!.zone;
    if (zone === undefined) continue;
    const fromEnd = from.edge === 'end';
    const toEnd = to.edge === 'end';
    const begins = (fromEnd ? end : start)[from.operation]!;
    const ends = (toEnd ? end : start)[to.operation]!;
    const onDemand = presence[from.operation] === ON_DEMAND || presence[to.operation] === ON_DEMAND;
    if (ends <= begins && !onDemand) continue;
    byZone[zone]!.push({ label, from: from.operation, fromEnd, to: to.operation, toEnd, begins, ends, onDemand });
  }
  return byZone;
}
