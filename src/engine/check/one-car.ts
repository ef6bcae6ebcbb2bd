import type { Problem } from '../problem/problem.ts';
import { firstUncovered } from './covering.ts';
import type { Hold } from './place-holds.ts';
import { isJudged } from './place-holds.ts';
import type { PlanRead } from './plan-read.ts';
import { carName, placeName, type Report } from './violation.ts';

/** The latest leaving seen so far, and the latest by another owner, so that a car is never compared with itself. */
class LatestLeaving {
  private first: Hold | undefined;
  private second: Hold | undefined;

  add(hold: Hold): void {
    if (this.first === undefined || hold.to >= this.first.to) {
      if (this.first !== undefined && this.first.owner !== hold.owner) this.second = this.first;
      this.first = hold;
    } else if (hold.owner !== this.first.owner && (this.second === undefined || hold.to >= this.second.to)) {
      this.second = hold;
    }
  }

  ofOther(owner: number): Hold | undefined {
    return this.first?.owner === owner ? this.second : this.first;
  }
}

const KINDS = ['settled', 'outside', 'planned'] as const;

function holderName(problem: Problem, hold: Hold): string {
  return hold.stay === undefined ? 'something outside this plan' : carName(problem, hold.stay);
}

/**
 * Ensures that a place holds one car at a time, from the start of its move in until it has arrived elsewhere, and
 * stands empty for the turnaround between two cars. O(holds), the holds being sorted.
 */
export function checkOneCar({ problem }: PlanRead, byPlace: readonly (readonly Hold[])[], report: Report): void {
  for (const [place, holds] of byPlace.entries()) {
    const { turnaround } = problem.places[place]!;
    const latest = { settled: new LatestLeaving(), outside: new LatestLeaving(), planned: new LatestLeaving() };
    for (const hold of holds) {
      for (const kind of KINDS) {
        if (!isJudged(kind, hold.kind)) continue;
        const before = latest[kind].ofOther(hold.owner);
        if (before === undefined || (hold.heldFrom >= before.to && hold.from >= before.to + turnaround)) continue;
        const overlaps = hold.heldFrom < before.to;
        const text = overlaps
          ? `${holderName(problem, hold)} takes ${placeName(problem, place)} at minute ${hold.heldFrom}, which ${holderName(problem, before)} holds until ${before.to}.`
          : `${holderName(problem, hold)} arrives in ${placeName(problem, place)} at minute ${hold.from}, ${hold.from - before.to} minutes after ${holderName(problem, before)} left; the turnaround takes ${turnaround}.`;
        const stays = [before.stay, hold.stay].filter((stay) => stay !== undefined);
        report({ invariant: 2, rule: overlaps ? 'place-shared' : 'turnaround', text, operations: [], stays });
      }
      latest[hold.kind].add(hold);
    }
  }
}

/** Ensures that cars stand only where and while a place is open. O(stays log intervals). */
export function checkPlaceOpen({ problem, stops }: PlanRead, report: Report): void {
  for (const stop of stops) {
    const open = stop && problem.places[stop.place]!.open;
    if (stop === undefined || open === undefined) continue;
    const from = stop.arrivalIsFact ? Math.max(stop.from, problem.now) : stop.from;
    if (stop.arrivalIsFact && (from >= stop.to || problem.stays[stop.stay]!.fixed?.standsOn)) continue;
    const closed = firstUncovered(open, from, Math.max(stop.to, from + 1));
    if (closed === undefined || (stop.arrivalIsFact && closed === from)) continue;
    const text = `${carName(problem, stop.stay)} stands in ${placeName(problem, stop.place)} at minute ${closed}, when that is closed.`;
    report({ invariant: 2, rule: 'place-closed', text, operations: [], stays: [stop.stay] });
  }
}
