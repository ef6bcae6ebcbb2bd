import type { Interval, Mode } from '../../engine/problem/problem.ts';
import type { RecipeStep, WorkKind } from '../model/recipe.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import type { EquipmentPool } from './equipment-pools.ts';
import type { Frame } from './frame.ts';
import type { ModeWish } from './modes.ts';

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
  const cureProgressOf = new Map<object, number>();
  const zoneOf = (place: number): number | null => frame.places[place]!.zone ?? null;

  const cureIn = (car: Car, { step, since }: ModeWish, zone: number | null): Way['cure'] => {
    if (step.duration.by !== 'dataSheet') return undefined;
    const { work, progress } = times.cure(car.coating(step.coatingId!), step.duration.item, zone);
    if (progress === null) return { work: Math.max(0, work - (since === undefined ? 0 : frame.now - since)) };
    let index = cureProgressOf.get(progress);
    if (index === undefined) {
      index = frame.progresses.push(progress) - 1;
      cureProgressOf.set(progress, index);
    }
    return { work, progress: index };
  };

  const find = (car: Car, wish: ModeWish): Way[] => {
    const { step, places, minutes } = wish;
    const lays = laying.has(step.kind) && step.coatingId !== null;
    const byZone =
      minutes === null || lays || (step.equipment.length > 0 && frame.pools.some(({ zone }) => zone !== null));
    const zones = [...new Set(places.map(zoneOf))];
    return (byZone ? zones : [zones[0] ?? null]).flatMap((zone) => {
      const inZone = byZone ? places.filter((place) => zoneOf(place) === zone) : places;
      const allowed = lays ? times.layingWindows(car.coating(step.coatingId!), zone) : undefined;
      if (allowed !== undefined && !allowed.some(({ to }) => to > frame.now)) return [];
      const always = allowed?.length === 1 && allowed[0]!.from <= frame.now && allowed[0]!.to >= frame.horizon;
      const cure = minutes === null ? cureIn(car, wish, zone) : undefined;
      return poolChoices(frame, step, zone).map((pools) => ({
        ...(inZone.length === places.length ? {} : { places: inZone }),
        uses: usesOf(step, pools),
        ...(allowed === undefined || always ? {} : { allowed }),
        ...(cure === undefined ? {} : { cure }),
      }));
    });
  };

  return {
    ways: (car, wish) => {
      const ways = find(car, wish);
      if (ways.length > 0) return ways;
      // Where the floor has begun without what the step asks for, it goes on without.
      const standsHere = wish.places.length === 1 && car.standing?.place === wish.places[0];
      const bare = standsHere ? find(car, { ...wish, step: { ...wish.step, equipment: [] } }) : [];
      if (bare.length === 0) throw new CannotPlan(...whyNoWay(wish.step));
      return bare;
    },
    equipmentUses: (step, zone) => usesOf(step, poolChoices(frame, step, zone)[0] ?? []),
  };
}

/** Most ways to combine equipment that are looked at. */
const mostPoolChoices = 4;

/** Equipment pools a step can take in a zone: those fixed there, and those that go anywhere. */
function poolChoices(frame: Frame, step: RecipeStep, zone: number | null): EquipmentPool[][] {
  let choices: EquipmentPool[][] = [[]];
  for (const { kind, count } of step.equipment) {
    const fit = frame.pools.filter(
      (pool) => pool.kind === kind && pool.capacity >= count && (pool.zone === null || pool.zone === zone),
    );
    choices = choices.flatMap((chosen) => fit.map((pool) => [...chosen, pool])).slice(0, mostPoolChoices);
  }
  return choices;
}

function usesOf(step: RecipeStep, pools: readonly EquipmentPool[]): Mode['uses'] {
  return pools.map((pool, k) => ({ resource: pool.resource, amount: step.equipment[k]!.count }));
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
