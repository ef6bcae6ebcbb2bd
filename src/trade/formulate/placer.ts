import type { TechnicianId } from '../model/ids.ts';
import type { Wish } from '../model/job.ts';
import type { Car } from './car.ts';
import type { CrewNeed } from './crews.ts';
import type { Item } from './items.ts';
import type { JobTerms } from './job-terms.ts';
import type { ModeMaker } from './modes.ts';
import type { Placing } from './operation-writer.ts';
import type { BoundLag } from './order.ts';
import { canBeDone, nowhere } from './placing.ts';
import type { StepInstance } from './step-instance.ts';
import type { Window } from './windows.ts';
import { wishedHours, wishFor, wishNotKept } from './wishes.ts';
import type { WorkAhead } from './work-ahead.ts';

/** Says of each instance of a car's work where, when and by whom it may be done. */
export class Placer {
  readonly #car: Car;
  readonly #ahead: WorkAhead;
  readonly #terms: JobTerms;
  readonly #maker: ModeMaker;
  readonly #needs: ReadonlyMap<string, readonly CrewNeed[]>;
  /** Index of the job's first stay among the problem's. */
  readonly #firstStay: number;
  /** Work of choices that are still open. */
  readonly #undecided = new Set<StepInstance>();
  /** Remedies that a plan may do without. */
  readonly #spare = new Set<StepInstance>();
  /** What follows a window that a remedy makes good. */
  readonly #remedied = new Set<StepInstance>();
  /** Lags between work that the recipe wants the same people to do. */
  readonly #tied: BoundLag[] = [];

  constructor(
    car: Car,
    ahead: WorkAhead,
    terms: JobTerms,
    maker: ModeMaker,
    needs: ReadonlyMap<string, readonly CrewNeed[]>,
    firstStay: number,
  ) {
    this.#car = car;
    this.#ahead = ahead;
    this.#terms = terms;
    this.#maker = maker;
    this.#needs = needs;
    this.#firstStay = firstStay;
    for (const item of ahead.items) this.#noteChoice(item);
    for (const window of ahead.windows) this.#noteRemedies(window);
    for (const bound of ahead.order.bounds) if (bound.lag.sameCrew !== 'no') this.#tied.push(bound);
  }

  placingOf(instance: StepInstance): Placing {
    const { route, settled } = this.#ahead;
    const { arrival, frozenStart, handover, handoverRelease } = this.#terms;
    const index = route.stayOf(instance);
    const places = index === undefined ? nowhere : route.stays[index]!.places;
    const wish = wishFor(this.#car, instance);
    const only = this.#namedFor(instance, places) ?? this.#sameAsBefore(instance, places);
    const isOptional = this.#undecided.has(instance) || this.#spare.has(instance);
    const hours = isOptional ? {} : wishedHours(this.#car, wish);
    return {
      stay: index === undefined ? undefined : this.#firstStay + index,
      factStay: index === 0 && route.stays[0]!.fixed !== undefined ? this.#firstStay : undefined,
      places,
      presence: isOptional ? 'optional' : 'always',
      settled: settled.get(instance),
      alsoNeeded: this.#alsoNeeded(instance),
      only,
      including: only === undefined ? this.#wishedFor(instance, places, wish) : undefined,
      release: (instance === handover ? handoverRelease : undefined) ?? hours.notBefore,
      frozenStart: (instance === arrival ? frozenStart : undefined) ?? hours.startAt,
      since: this.#waitingSince(instance),
    };
  }

  #noteChoice(item: Item): void {
    if (item.kind !== 'branch') return;
    for (const steps of item.alternatives) for (const instance of steps) this.#undecided.add(instance);
  }

  #noteRemedies({ bound, rounds }: Window): void {
    for (const { presence, instances } of rounds) {
      if (presence === 'present') this.#remedied.add(bound.to);
      else for (const instance of instances) this.#spare.add(instance);
    }
  }

  #alsoNeeded({ step }: StepInstance): readonly CrewNeed[] {
    return this.#needs.get(step.key) ?? [];
  }

  /** Those who did the first part of what the recipe wants the same people to do, if they can be there. */
  #sameAsBefore(instance: StepInstance, places: readonly number[]): readonly TechnicianId[] | undefined {
    if (this.#remedied.has(instance)) return undefined;
    for (const { from, to } of this.#tied) {
      if (to !== instance) continue;
      const by = this.#ahead.settled.get(from)?.by ?? from.record?.pieces.at(-1)?.by ?? [];
      if (by.length === 0 || by.length !== instance.step.crew.size) continue;
      if (canBeDone(this.#car, this.#maker, this.#alsoNeeded(instance), instance, places, by)) return by;
    }
    return undefined;
  }

  /** Those it was handed over to, or who were arranged for by name, if they can be there; else whoever can. */
  #namedFor(instance: StepInstance, places: readonly number[]): readonly TechnicianId[] | undefined {
    const named = instance.record?.handedTo ?? this.#terms.onlyBy.get(instance);
    if (named === undefined || this.#ahead.settled.has(instance)) return undefined;
    const car = this.#car;
    if (canBeDone(car, this.#maker, [], instance, places, named)) return named;
    const text = `"${instance.step.label}" is for ${named.join(', ')}, who cannot be there; it is planned for whoever can.`;
    car.notices.push({ kind: 'personAbsent', jobId: car.job.id, operation: instance.key, text });
    return undefined;
  }

  /** A choice between waiting and doing is still open, but the waiting began when the work before it ended. */
  #waitingSince(instance: StepInstance): number | undefined {
    if (!this.#undecided.has(instance) || instance.step.attendance.kind !== 'unattended') return undefined;
    const { order, settled } = this.#ahead;
    let since: number | undefined;
    for (const { from, to } of order.links) {
      if (to !== instance) continue;
      const end = settled.get(from)?.end;
      if (end === undefined) return undefined;
      since = Math.max(since ?? end, end);
    }
    return since !== undefined && since < this.#car.frame.now ? since : undefined;
  }

  /** Whoever the desk decided on, if that person can do it there. */
  #wishedFor(instance: StepInstance, places: readonly number[], wish: Wish | undefined): TechnicianId | undefined {
    if (wish?.personId == null || this.#ahead.settled.has(instance)) return undefined;
    const car = this.#car;
    const { personId } = wish;
    if (canBeDone(car, this.#maker, this.#alsoNeeded(instance), instance, places, undefined, personId)) return personId;
    const who = car.frame.personOf.get(personId)?.technician.name ?? personId;
    wishNotKept(car, wish, `${who} has not the skill, the certificate or the hours for "${instance.step.label}".`);
    return undefined;
  }
}
