import type { Capability, Place } from '../model/shop.ts';
import type { Car } from './car.ts';
import type { Frame } from './frame.ts';
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
  for (let k = 0; k <= index && k < recipe.stays.length; k++) {
    for (const need of recipe.stays[k]!.needs) if (sheltered.has(need)) return true;
  }
  return false;
}

function placesThatCan(car: Car, needs: readonly Capability[], roof: boolean): readonly number[] {
  const { lengthMm, heightMm } = car.job.vehicle;
  const key = `${needs} ${roof} ${lengthMm} ${heightMm}`;
  let places = car.frame.placeLists.get(key);
  if (places === undefined) {
    places = placesAbleTo(car, needs, roof);
    car.frame.placeLists.set(key, places);
  }
  const hasCome = car.standing !== undefined || car.record.visits.length > 0;
  return hasCome ? places : onTurn(car, places);
}

function placesAbleTo(car: Car, needs: readonly Capability[], roof: boolean): number[] {
  const { places } = car.frame.book;
  const able: number[] = [];
  for (let k = 0; k < places.length; k++) {
    const place = places[k]!;
    if (fits(place, car) && (place.indoor || !roof) && missingIn(place, needs).length === 0) able.push(k);
  }
  return able;
}

function missingIn({ capabilities }: Place, needs: readonly Capability[]): Capability[] {
  const missing: Capability[] = [];
  for (const need of needs) if (!capabilities.includes(need)) missing.push(need);
  return missing;
}

/** The places whose turn it is, where a car that is still to come could go to more air zones than a stay chooses from. */
function onTurn({ frame, job }: Car, places: readonly number[]): readonly number[] {
  let byTurn = frame.placesByTurn.get(places);
  if (byTurn === undefined) {
    byTurn = inTurns(frame, places);
    frame.placesByTurn.set(places, byTurn);
  }
  return byTurn.length === 1 ? places : byTurn[turnOf(job.id) % byTurn.length]!;
}

/** The places of each turn: whole zones, and the yards spread evenly. */
function inTurns(frame: Frame, places: readonly number[]): readonly (readonly number[])[] {
  const zones = new Map<number, number>();
  for (const place of places) {
    const { zone } = frame.places[place]!;
    if (zone !== undefined && !zones.has(zone)) zones.set(zone, zones.size);
  }
  const turns = turnsOf(zones.size, mostZones);
  if (turns === 1) return [places];
  const byTurn: number[][] = [];
  for (let turn = 0; turn < turns; turn++) byTurn.push([]);
  let yards = 0;
  for (const place of places) {
    const { zone } = frame.places[place]!;
    const number = zone === undefined ? yards++ : zones.get(zone)!;
    byTurn[number % turns]!.push(place);
  }
  return byTurn;
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
  const missing = missingIn(place, stay.needs);
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
