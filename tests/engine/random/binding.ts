import { firstUncovered } from '../../../src/engine/check/covering.ts';
import { readHolds } from '../../../src/engine/check/place-holds.ts';
import { edgeTime, isFact, readPlan } from '../../../src/engine/check/plan-read.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { DAY } from './shop-draft.ts';

/** Rules that may hold a plan back. */
export const RULES = ['maximum lag', 'overnight pause', 'blocked move', 'zone exclusion', "night's cure"] as const;
export type BindingRule = (typeof RULES)[number];

/** Which of the rules bind in a plan, each by a direct test of slack, said at its function. */
export function bindingRules(problem: Problem, schedule: Schedule): Set<BindingRule> {
  const tests: Readonly<Record<BindingRule, (problem: Problem, schedule: Schedule) => boolean>> = {
    'maximum lag': maximumLagBinds,
    'overnight pause': overnightPauseBinds,
    'blocked move': blockedMoveBinds,
    'zone exclusion': zoneExclusionBinds,
    "night's cure": nightCureBinds,
  };
  return new Set(RULES.filter((rule) => tests[rule](problem, schedule)));
}

const midnightBetween = (from: number, to: number) => Math.floor(from / DAY) < Math.floor(to / DAY);

/** A lag with room between its least and its most has used all of it, or has lapsed and brought its remedy in. */
function maximumLagBinds({ lags, ...problem }: Problem, schedule: Schedule): boolean {
  return lags.some(({ from, to, min, max }) => {
    const one = schedule.operations[from.operation];
    const other = schedule.operations[to.operation];
    if (one == null || other == null || max === undefined || max === min) return false;
    if (problem.operations[to.operation]!.fixed !== undefined) return false;
    return edgeTime(other, to.edge) - edgeTime(one, from.edge) >= max;
  });
}

/** Attended work stops in the evening and goes on the next day: were pauses not allowed, it could not lie there. */
function overnightPauseBinds(problem: Problem, schedule: Schedule): boolean {
  const { pieces } = readPlan(problem, schedule);
  return pieces.some((worked, o) => {
    const planned = schedule.operations[o];
    if (planned == null || isFact(problem, o)) return false;
    if (problem.operations[o]!.modes[planned.mode]!.uses.length === 0) return false;
    return worked.some((piece, k) => k > 0 && midnightBetween(worked[k - 1]!.to, piece.from));
  });
}

/**
 * A move starts in the very minute in which another car leaves the place moved to, or one on the way in or out, or arrives when the turnaround
 * after another car is just over: a minute earlier it could not.
 */
function blockedMoveBinds(problem: Problem, schedule: Schedule): boolean {
  const plan = readPlan(problem, schedule);
  const holds = readHolds(plan);
  return plan.itineraries.some((itinerary) =>
    itinerary.some((stop, k) => {
      if (stop.move === undefined || isFact(problem, stop.move)) return false;
      const { start } = schedule.operations[stop.move]!;
      const { turnaround, blockedBy } = problem.places[stop.place]!;
      const inTheWay = [stop.place, ...blockedBy, ...problem.places[itinerary[k - 1]!.place]!.blockedBy];
      return (
        inTheWay.some((place) => holds[place]!.some((hold) => hold.owner !== stop.job && hold.to === start)) ||
        holds[stop.place]!.some((hold) => hold.owner !== stop.job && hold.to + turnaround === stop.from)
      );
    }),
  );
}

/** A span of air begins in the very minute in which the air of another car, which it may not meet, has settled. */
function zoneExclusionBinds(problem: Problem, schedule: Schedule): boolean {
  const { stops } = readPlan(problem, schedule);
  const spans = problem.airSpans.flatMap((span) => {
    const begins = schedule.operations[span.from.operation];
    const ends = schedule.operations[span.to.operation];
    const stop = stops[span.stay];
    if (begins == null || ends == null || stop === undefined) return [];
    const { label } = span;
    const zone = problem.places[stop.place]!.zone;
    const from = edgeTime(begins, span.from.edge);
    return [
      {
        label,
        zone,
        job: stop.job,
        from,
        to: edgeTime(ends, span.to.edge),
        fact: isFact(problem, span.from.operation),
      },
    ];
  });
  return problem.airExclusions.some(({ zone, first, second, settleAfterFirst, settleAfterSecond }) =>
    spans.some((before) =>
      spans.some((after) => {
        if (before.zone !== zone || after.zone !== zone || before.job === after.job || after.fact) return false;
        if (before.label === first && after.label === second) return after.from === before.to + settleAfterFirst;
        if (before.label === second && after.label === first) return after.from === before.to + settleAfterSecond;
        return false;
      }),
    ),
  );
}

/** Unattended work runs through a night, and what follows it starts earlier than it could if the cure ran in the first person's hours only. */
function nightCureBinds(problem: Problem, schedule: Schedule): boolean {
  const hours = problem.resources.find(({ kind }) => kind === 'person')?.open ?? [];
  return problem.lags.some(({ from, to, min }) => {
    const cure = schedule.operations[from.operation];
    const next = schedule.operations[to.operation];
    if (cure == null || next == null || from.edge !== 'end' || to.edge !== 'start') return false;
    const mode = problem.operations[from.operation]!.modes[cure.mode]!;
    if (mode.uses.length > 0 || mode.work === 0 || !midnightBetween(cure.start, cure.end)) return false;
    let left = cure.end - cure.start;
    let minute = cure.start;
    for (; left > 0 && minute < problem.horizon; minute++) {
      if (firstUncovered(hours, minute, minute + 1) === undefined) left--;
    }
    return next.start < minute + min;
  });
}
