import type { Interval, Mode, Progress } from '../../engine/problem/problem.ts';
import type { RecipeStep, WorkKind } from '../model/recipe.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import type { Frame } from './frame.ts';
import type { ModeWish } from './modes.ts';
import { isAnyFixed, poolChoices, usesOf } from './pool-choices.ts';

export const laying: ReadonlySet<WorkKind> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

/** What the places, their air and their equipment leave open for an operation, before anybody is chosen to do it. */
export interface Way {
  /** Absent: any place of the stay. */
  readonly places?: readonly number[];
  /** Equipment. */
  readonly uses: Mode['uses'];
  readonly allowed?: readonly Interval[];
  /** Of a cure. */
  readonly cure?: { readonly work: number; readonly progress?: number };
}

export interface WayFinder {
  /** @throws CannotPlan when the air is never fit, or the equipment nowhere. */
  ways(car: Car, wish: ModeWish): Way[];
  /** Equipment a step takes in a zone; none where there is not enough. */
  equipmentUses(step: RecipeStep, zone: number | null): Mode['uses'];
}

/** Air and equipment differ by zone, so that an operation that minds them has a way for each zone it can be done in. */
export function wayFinder(frame: Frame, times: CoatingTimes): WayFinder {
  return new ZoneWays(frame, times);
}

class ZoneWays implements WayFinder {
  readonly #frame: Frame;
  readonly #times: CoatingTimes;
  /** Index of a cure's progress function among the problem's. */
  readonly #cureProgress = new Map<Progress, number>();

  constructor(frame: Frame, times: CoatingTimes) {
    this.#frame = frame;
    this.#times = times;
  }

  ways(car: Car, wish: ModeWish): Way[] {
    const ways = this.#find(car, wish);
    if (ways.length > 0) return ways;
    // Where the floor has begun without what the step asks for, it goes on without.
    const standsHere = wish.places.length === 1 && car.standing?.place === wish.places[0];
    const bare = standsHere ? this.#find(car, { ...wish, step: { ...wish.step, equipment: [] } }) : [];
    if (bare.length === 0) throw new CannotPlan(...whyNoWay(wish.step));
    return bare;
  }

  equipmentUses(step: RecipeStep, zone: number | null): Mode['uses'] {
    return usesOf(step, poolChoices(this.#frame.pools, step, zone)[0] ?? []);
  }

  #find(car: Car, wish: ModeWish): Way[] {
    const { step, places, minutes } = wish;
    const ways: Way[] = [];
    if (minutes === null || isLaid(step) || (step.equipment.length > 0 && isAnyFixed(this.#frame.pools))) {
      for (const [zone, inZone] of this.#byZone(places)) this.#addWays(ways, car, wish, zone, inZone);
    } else this.#addWays(ways, car, wish, places.length === 0 ? null : this.#zoneOf(places[0]!), places);
    return ways;
  }

  /** Adds what the air of a zone, and each choice of equipment there, leaves open. */
  #addWays(ways: Way[], car: Car, wish: ModeWish, zone: number | null, inZone: readonly number[]): void {
    const { step, places, minutes } = wish;
    const allowed = isLaid(step) ? this.#times.layingWindows(car.coating(step.coatingId!), zone) : undefined;
    if (allowed !== undefined && isOver(allowed, this.#frame.now)) return;
    const cure = minutes === null ? this.#cureIn(car, wish, zone) : undefined;
    for (const pools of poolChoices(this.#frame.pools, step, zone)) {
      const way: { -readonly [K in keyof Way]: Way[K] } = { uses: usesOf(step, pools) };
      if (inZone.length < places.length) way.places = inZone;
      if (allowed !== undefined && !this.#isAlways(allowed)) way.allowed = allowed;
      if (cure !== undefined) way.cure = cure;
      ways.push(way);
    }
  }

  #cureIn(car: Car, { step, since }: ModeWish, zone: number | null): Way['cure'] {
    if (step.duration.by !== 'dataSheet') return undefined;
    const { work, progress } = this.#times.cure(car.coating(step.coatingId!), step.duration.item, zone);
    if (progress !== null) return { work, progress: this.#indexOf(progress) };
    return { work: Math.max(0, work - (since === undefined ? 0 : this.#frame.now - since)) };
  }

  #indexOf(progress: Progress): number {
    let index = this.#cureProgress.get(progress);
    if (index === undefined) {
      index = this.#frame.progresses.push(progress) - 1;
      this.#cureProgress.set(progress, index);
    }
    return index;
  }

  #byZone(places: readonly number[]): Map<number | null, number[]> {
    const byZone = new Map<number | null, number[]>();
    for (const place of places) {
      const zone = this.#zoneOf(place);
      const known = byZone.get(zone);
      if (known === undefined) byZone.set(zone, [place]);
      else known.push(place);
    }
    return byZone;
  }

  #zoneOf(place: number): number | null {
    return this.#frame.places[place]!.zone ?? null;
  }

  #isAlways(allowed: readonly Interval[]): boolean {
    const { now, horizon } = this.#frame;
    return allowed.length === 1 && allowed[0]!.from <= now && allowed[0]!.to >= horizon;
  }
}

function isLaid({ kind, coatingId }: RecipeStep): boolean {
  return laying.has(kind) && coatingId !== null;
}

function isOver(allowed: readonly Interval[], now: number): boolean {
  for (const { to } of allowed) if (to > now) return false;
  return true;
}

function whyNoWay(step: RecipeStep): [string, string] {
  if (laying.has(step.kind)) {
    return [
      'airZones',
      `"${step.label}": the expected air is never fit for the coating in any place it could be laid in.`,
    ];
  }
  const kinds = step.equipment.map(({ kind, count }) => `${count} ${kind}`).join(' and ');
  return ['equipment', `"${step.label}" needs ${kinds}, which is not there in any place it could be done in.`];
}
