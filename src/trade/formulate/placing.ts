import type { TechnicianId } from '../model/ids.ts';
import type { Wish } from '../model/job.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CrewNeed } from './crews.ts';
import type { JobTerms } from './job-terms.ts';
import type { ModeMaker } from './modes.ts';
import type { Placing } from './operation-writer.ts';
import type { StepInstance } from './step-instance.ts';
import { wishedHours, wishFor, wishNotKept } from './wishes.ts';
import type { WorkAhead } from './work-ahead.ts';

/** Where work is done that needs no car, or whose place has been left. One list, so that it is known again. */
export const nowhere: readonly number[] = [];

/** Whether somebody, or just these people, can do a step in some of the places at all. */
export function canBeDone(
  car: Car,
  maker: ModeMaker,
  alsoNeeded: readonly CrewNeed[],
  { step, breakdown }: StepInstance,
  places: readonly number[],
  only?: readonly TechnicianId[],
  including?: TechnicianId,
): boolean {
  try {
    const minutes = step.duration.by === 'dataSheet' ? null : breakdown.minutes;
    const wish = { step, minutes, places, earliest: car.frame.now, alsoNeeded };
    const people = { ...(only === undefined ? {} : { only }), ...(including === undefined ? {} : { including }) };
    return maker.modes(car, { ...wish, ...people }).length > 0;
  } catch (error) {
    if (error instanceof CannotPlan) return false;
    throw error;
  }
}

/** Says of each instance where, when and by whom it may be done. */
export function placer(
  car: Car,
  { items, order, windows, settled, route }: WorkAhead,
  terms: JobTerms,
  maker: ModeMaker,
  needs: ReadonlyMap<string, readonly CrewNeed[]>,
  firstStay: number,
): (instance: StepInstance) => Placing {
  const undecided = new Set(items.flatMap((item) => (item.kind === 'branch' ? item.alternatives.flat() : [])));
  const optional = new Set([
    ...undecided,
    ...windows.flatMap(({ rounds }) =>
      rounds.flatMap((round) => (round.presence === 'optional' ? round.instances : [])),
    ),
  ]);
  const remedied = new Set(
    windows.flatMap(({ bound, rounds }) => (rounds.some(({ presence }) => presence === 'present') ? [bound.to] : [])),
  );
  const tied = order.bounds.filter(({ lag }) => lag.sameCrew !== 'no');
  const alsoNeeded = (instance: StepInstance) => needs.get(instance.step.key) ?? [];

  /** Those who did the first part of what the recipe wants the same people to do, if they can be there. */
  const sameAsBefore = (instance: StepInstance, places: readonly number[]): readonly TechnicianId[] | undefined => {
    if (remedied.has(instance)) return undefined;
    for (const { from, to } of tied) {
      if (to !== instance) continue;
      const by = settled.get(from)?.by ?? from.record?.pieces.at(-1)?.by ?? [];
      if (by.length === 0 || by.length !== instance.step.crew.size) continue;
      if (canBeDone(car, maker, alsoNeeded(instance), instance, places, by)) return by;
    }
    return undefined;
  };

  /** Those it was handed over to, or who were arranged for by name, if they can be there; else whoever can. */
  const namedFor = (instance: StepInstance, places: readonly number[]): readonly TechnicianId[] | undefined => {
    const named = instance.record?.handedTo ?? terms.onlyBy.get(instance);
    if (named === undefined || settled.has(instance)) return undefined;
    if (canBeDone(car, maker, [], instance, places, named)) return named;
    const text = `"${instance.step.label}" is for ${named.join(', ')}, who cannot be there; it is planned for whoever can.`;
    car.notices.push({ kind: 'personAbsent', jobId: car.job.id, operation: instance.key, text });
    return undefined;
  };

  /** A choice between waiting and doing is still open, but the waiting began when the work before it ended. */
  const waitingSince = (instance: StepInstance): number | undefined => {
    if (!undecided.has(instance) || instance.step.attendance.kind !== 'unattended') return undefined;
    const before = order.links.filter(({ to }) => to === instance).map(({ from }) => settled.get(from)?.end);
    if (before.length === 0 || before.some((end) => end === undefined)) return undefined;
    const since = Math.max(...before.map((end) => end!));
    return since < car.frame.now ? since : undefined;
  };

  /** Whoever the desk decided on, if that person can do it there. */
  const wishedFor = (instance: StepInstance, places: readonly number[], wish: Wish | undefined) => {
    if (wish?.personId == null || settled.has(instance)) return undefined;
    if (canBeDone(car, maker, alsoNeeded(instance), instance, places, undefined, wish.personId)) return wish.personId;
    const who = car.frame.personOf.get(wish.personId)?.technician.name ?? wish.personId;
    wishNotKept(car, wish, `${who} has not the skill, the certificate or the hours for "${instance.step.label}".`);
    return undefined;
  };

  return (instance) => {
    const index = route.stayOf(instance);
    const places = index === undefined ? nowhere : route.stays[index]!.places;
    const wish = wishFor(car, instance);
    const only = namedFor(instance, places) ?? sameAsBefore(instance, places);
    const hours = optional.has(instance) ? {} : wishedHours(car, wish);
    const handoverRelease = instance === terms.handover ? terms.handoverRelease : undefined;
    const told = instance === terms.arrival ? terms.frozenStart : undefined;
    return {
      stay: index === undefined ? undefined : firstStay + index,
      factStay: index === 0 && route.stays[0]!.fixed !== undefined ? firstStay : undefined,
      places,
      presence: optional.has(instance) ? 'optional' : 'always',
      settled: settled.get(instance),
      alsoNeeded: alsoNeeded(instance),
      only,
      including: only === undefined ? wishedFor(instance, places, wish) : undefined,
      release: handoverRelease ?? hours.notBefore,
      frozenStart: told ?? hours.startAt,
      since: waitingSince(instance),
    };
  };
}
