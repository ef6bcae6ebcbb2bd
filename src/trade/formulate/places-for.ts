import type { Capability, Place } from '../model/shop.ts';
import type { Car } from './car.ts';
import { turnOf, turnsOf } from './turns.ts';

/** Most air zones a stay may choose from; more make the plan slower to find and hardly better. */
const mostZones = 12;

const sheltered: ReadonlySet<Capability> = new Set(['coating', 'curing']);

/**
 * Places a car can take for a stay of its recipe: they can do what the stay needs, the car fits in, and from the first
 * stay for coating or curing on there is a roof.
 */
export function placesFor(car: Car, index: number): readonly number[] {
  const stay = car.recipe.stays[index];
  return stay === undefined ? [] : placesThatCan(car, stay.needs, needsRoof(car, index));
}

/** Where a car may stand by until its next place is free, so that two cars that want each other's place can swap. */
export function holdingPlaces(car: Car, serving: number): readonly number[] {
  return placesThatCan(car, ['hold'], needsRoof(car, serving));
}

function needsRoof({ recipe }: Car, index: number): boolean {
  return recipe.stays.slice(0, index + 1).some(({ needs }) => needs.some((need) => sheltered.has(need)));
}

function placesThatCan(car: Car, needs: readonly Capability[], roof: boolean): readonly number[] {
  const { lengthMm, heightMm } = car.job.vehicle;
  const key = `${needs} ${roof} ${lengthMm} ${heightMm}`;
  let places = car.frame.placeLists.get(key);
  if (places === undefined) {
    places = car.frame.book.places.flatMap((place, k) =>
      fits(place, car) && needs.every((need) => place.capabilities.includes(need)) && (place.indoor || !roof)
        ? [k]
        : [],
    );
    car.frame.placeLists.set(key, places);
  }
  const hasCome = car.standing !== undefined || car.record.visits.length > 0;
  return hasCome ? places : onTurn(car, places);
}

/** The places whose turn it is, where a car that is still to come could go to more air zones than a stay chooses from. */
function onTurn({ frame, job }: Car, places: readonly number[]): readonly number[] {
  let byTurn = frame.placesByTurn.get(places);
  if (byTurn === undefined) {
    const zoneOf = (place: number) => frame.places[place]!.zone;
    const zones = [...new Set(places.map(zoneOf).filter((zone) => zone !== undefined))];
    const turns = turnsOf(zones.length, mostZones);
    const yards = places.filter((place) => zoneOf(place) === undefined);
    const turnOfPlace = (place: number) => {
      const zone = zoneOf(place);
      return (zone === undefined ? yards.indexOf(place) : zones.indexOf(zone)) % turns;
    };
    byTurn =
      turns === 1
        ? [places]
        : Array.from({ length: turns }, (_, turn) => places.filter((place) => turnOfPlace(place) === turn));
    frame.placesByTurn.set(places, byTurn);
  }
  return byTurn.length === 1 ? places : byTurn[turnOf(job.id) % byTurn.length]!;
}

function fits(place: Place, { job }: Car): boolean {
  return job.vehicle.lengthMm <= place.maxLengthMm && job.vehicle.heightMm <= place.maxHeightMm;
}

const capabilityWords: Record<Capability, string> = {
  wet: 'floor for wet work',
  correction: 'light for correction',
  coating: 'air for coating',
  curing: 'room for curing',
  interior: 'room for interior work',
  lift: 'lift',
  hold: 'room to stand by',
};

/** Why a place will not do for a stay of the recipe; what is missing first. */
export function whyNotThere(car: Car, index: number, place: Place): string {
  const stay = car.recipe.stays[index]!;
  const { lengthMm, heightMm } = car.job.vehicle;
  const missing = stay.needs.filter((need) => !place.capabilities.includes(need));
  if (missing.length > 0) {
    const lacks = missing.map((need) => `no ${capabilityWords[need]}`).join(' and ');
    return `${place.name} has ${lacks}, which the work there needs.`;
  }
  if (!fits(place, car)) {
    const takes = `${place.maxLengthMm} mm long and ${place.maxHeightMm} mm high`;
    return `${place.name} takes cars up to ${takes}; this one is ${lengthMm} and ${heightMm}.`;
  }
  return `${place.name} has no roof, and from coating on the car stands under one.`;
}

export function noPlaceText({ job, recipe }: Car, index: number): string {
  const { key, needs } = recipe.stays[index]!;
  const size = `${job.vehicle.lengthMm} mm long and ${job.vehicle.heightMm} mm high`;
  return `No place that can do ${needs.join(', ')} (stay "${key}") takes a car ${size}.`;
}
