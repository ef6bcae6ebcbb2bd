import type { Branch } from '../../engine/problem/problem.ts';
import type { Car } from './car.ts';
import type { Item } from './items.ts';
import type { Itinerary } from './itinerary.ts';
import type { Written } from './operation-writer.ts';
import type { Order } from './order.ts';
import { presentZone, type SettledWork } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import type { Window } from './windows.ts';
import type { WorkAhead } from './work-ahead.ts';

/** What one job's work has become, for those who write its lags and air. */
export class JobWork implements WorkAhead {
  readonly items: readonly Item[];
  readonly order: Order;
  readonly windows: readonly Window[];
  readonly settled: SettledWork;
  readonly route: Itinerary;
  readonly written: ReadonlyMap<StepInstance, Written>;
  readonly #car: Car;
  /** Index of the job's first stay among the problem's. */
  readonly #firstStay: number;
  /** Zones from each stay on, once they have been asked for. */
  readonly #zonesFrom = new Map<number, readonly (number | null)[]>();

  constructor(car: Car, ahead: WorkAhead, written: ReadonlyMap<StepInstance, Written>, firstStay: number) {
    this.items = ahead.items;
    this.order = ahead.order;
    this.windows = ahead.windows;
    this.settled = ahead.settled;
    this.route = ahead.route;
    this.written = written;
    this.#car = car;
    this.#firstStay = firstStay;
  }

  /** Index into the problem's stays of the stay an instance is done in. */
  stayOf(instance: StepInstance): number | undefined {
    const index = this.route.stayOf(instance);
    return index === undefined ? undefined : this.#firstStay + index;
  }

  /** Air zones a car may be in from this instance on; where some are known, the unknown air of the others is left out. */
  zonesFrom(instance: StepInstance): readonly (number | null)[] {
    const from = this.route.stayOf(instance) ?? 0;
    let zones = this.#zonesFrom.get(from);
    if (zones === undefined) {
      zones = this.#zonesOfStays(from);
      this.#zonesFrom.set(from, zones);
    }
    return zones;
  }

  /** Zones of a stay and all later ones. */
  #zonesOfStays(from: number): readonly (number | null)[] {
    const { stays } = this.route;
    const { places } = this.#car.frame;
    const named = new Set<number>();
    let some = false;
    for (let k = from; k < stays.length; k++) {
      for (const place of stays[k]!.places) {
        const { zone } = places[place]!;
        some = true;
        if (zone !== undefined) named.add(zone);
      }
    }
    if (named.size > 0) return [...named];
    return some ? [null] : [presentZone(this.#car)];
  }

  /** The choices that are still open, of operations as they have been written. */
  branches(): Branch[] {
    const branches: Branch[] = [];
    for (const item of this.items) {
      if (item.kind !== 'branch') continue;
      const alternatives: number[][] = [];
      for (const steps of item.alternatives) alternatives.push(this.#firstOperations(steps));
      branches.push({ name: item.name, alternatives });
    }
    return branches;
  }

  #firstOperations(steps: readonly StepInstance[]): number[] {
    const operations: number[] = [];
    for (const step of steps) operations.push(this.written.get(step)!.first);
    return operations;
  }
}
