import type { Fixed, Interval, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import { addFullVisit, addShortVisit, type Crewing } from './random-visit.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';
import { commonHours, DAY, hoursAsProgress, ShopDraft } from './shop-draft.ts';

/**
 * A small invented shop with two to six cars booked, a pure function of its seed: two to five bays and a yard, two or
 * three people with lunches and overtime, windows with remedies, correction over nights, cures by waiting or lamps, air
 * rules, certificates that expire, machine hours capped, drop-offs frozen and work under way.
 */
export function randomShop(seed: number): Problem {
  const random = seededRandom(seed);
  const started = random.chance(0.35);
  const draft = new ShopDraft(started ? DAY + 600 : 480, started ? 9 : 8);
  const crew = addShop(draft, random);
  const cars = random.whole(2, 6);
  for (let car = 0; car < cars; car++) {
    if (car === 0 || random.chance(0.5)) addFullVisit(draft, crew, random);
    else addShortVisit(draft, crew, random);
  }
  if (started) startFirstVisit(draft, crew, random);
  else if (random.chance(0.4)) freezeDropOff(draft, random);
  const takenPlaces = random.chance(0.3)
    ? [{ place: random.pick(crew.cleanBays), from: draft.now + 240, to: draft.now + 480 }]
    : [];
  const takenResources = random.chance(0.3)
    ? [{ resource: random.pick(crew.people), amount: 100, from: draft.now + 300, to: draft.now + 360 }]
    : [];
  return draft.finish({ takenPlaces, takenResources });
}

function addShop(draft: ShopDraft, random: SeededRandom): Crewing {
  const people = Array.from({ length: random.whole(2, 3) }, (_, k) => addPerson(draft, random, k));
  const [first, second] = people as [number, number];
  const together = commonHours(draft.resources[first]!.open!, draft.resources[second]!.open!);
  const pair = { people: [first, second] as const, progress: draft.progresses.push(hoursAsProgress(together)) - 1 };
  const lamp = draft.resources.push({ name: 'lamp', capacity: random.whole(1, 2), kind: 'equipment' }) - 1;
  // Moisture-cured coating slows down in the dry air of the afternoon: thousandths of the nominal speed.
  const at = Array.from({ length: draft.days }, (_, day) => [day * DAY, day * DAY + 720, day * DAY + 960]).flat();
  const cureProgress = draft.progresses.push({ at, rate: at.map((_, k) => (k % 3 === 1 ? 800 : 1000)) }) - 1;
  const wetBays: number[] = [];
  const cleanBays: number[] = [];
  const yard: number[] = [];
  const oneRoom = random.chance(0.6);
  draft.zones.push('hall', ...(oneRoom ? [] : ['coating room']));
  const bays = random.whole(2, 5);
  for (let bay = 0; bay < bays; bay++) {
    const isWet = bay === 0 || (bay === 3 && random.chance(0.5));
    // A clean bay may be reached only through the wet bay at the door.
    const blockedBy = !isWet && random.chance(0.4) ? [wetBays[0]!] : [];
    const zone = isWet || oneRoom ? 0 : 1;
    const turnaround = random.whole(0, 2) * 15;
    const place = draft.places.push({ name: `${isWet ? 'wet' : 'clean'} bay ${bay}`, turnaround, blockedBy, zone }) - 1;
    (isWet ? wetBays : cleanBays).push(place);
  }
  const spaces = random.whole(1, 3);
  for (let space = 0; space < spaces; space++) {
    const blockedBy = space > 0 && random.chance(0.7) ? [yard[space - 1]!] : [];
    // Some yards are closed for an afternoon of hail.
    const hail = random.chance(0.2) ? { open: closedFor(draft, draft.now + random.whole(4, 30) * 60, 300) } : {};
    yard.push(draft.places.push({ name: `yard ${space}`, turnaround: 0, blockedBy, ...hail }) - 1);
  }
  const coaters = random.some(people, 1);
  const certifiedUntil = new Map<number, number>();
  if (coaters.length > 1 && random.chance(0.4)) certifiedUntil.set(coaters[1]!, draft.now + random.whole(1, 3) * DAY);
  return {
    people,
    coaters,
    drivers: random.some(people, 1),
    lamp,
    cureProgress,
    wetBays,
    cleanBays,
    yard,
    reception: draft.daily({ from: 480, to: 1080 }),
    coatingFit: random.chance(0.5) ? draft.daily({ from: 0, to: DAY }) : draft.daily({ from: 540, to: 1000 }),
    certifiedUntil,
    pair,
  };
}

function closedFor(draft: ShopDraft, from: number, minutes: number): Interval[] {
  return [
    { from: 0, to: from },
    { from: from + minutes, to: draft.days * DAY },
  ];
}

function addPerson(draft: ShopDraft, random: SeededRandom, k: number): number {
  const start = 480 - 30 * (k % 2);
  const lunch = 690 + 30 * k;
  const morning = { from: start, to: lunch };
  const evening = random.chance(0.3) ? [{ from: 1020, to: 1080 }] : [];
  const open = draft.daily(morning, { from: lunch + 45, to: 1020 }, ...evening);
  return draft.addPerson(`person ${k}`, open, draft.daily(...evening));
}

/** A drop-off hour told to the customer, whoever does the intake. */
function freezeDropOff(draft: ShopDraft, random: SeededRandom): void {
  const job = draft.jobs[0]!;
  fix(draft, job.arrival!, { start: job.release + random.whole(0, 3) * 30, by: 'frozen' });
}

/** The first car came yesterday: it is being washed, or stands in a clean bay in the middle of its correction or wiped. */
function startFirstVisit(draft: ShopDraft, crew: Crewing, random: SeededRandom): void {
  const job = draft.jobs[0]!;
  const [wet, , clean] = job.stays as [number, number, number];
  const named = (name: string) =>
    draft.operations.findIndex((operation) => operation.job === 0 && operation.name === name);
  const happened = (name: string, start: number, end: number) =>
    fix(draft, named(name), { start, end, mode: 0, by: 'fact' });
  draft.jobs[0] = { ...job, release: 0 };
  settle(draft, wet, crew.wetBays[0]!, 480);
  const progress = random.pick(['wash', 'correction', 'wipe']);
  happened('intake', 480, 505);
  happened('acid', 505, 515);
  happened('rinse', 520, 535);
  if (progress === 'wash') {
    happened('wash', draft.now - 30, draft.now + 15);
    return;
  }
  happened('wash', 535, 600);
  fix(draft, draft.stays[clean]!.move!, { start: 630, end: 640, mode: 0, by: 'fact' });
  settle(draft, clean, random.pick(crew.cleanBays), 640);
  happened('compound', 700, progress === 'wipe' ? draft.now - 90 : draft.now + 60);
  if (progress === 'wipe') happened('wipe', draft.now - 60, draft.now - random.whole(0, 40));
}

function fix(draft: ShopDraft, operation: number, fixed: Fixed): void {
  const before: Operation = draft.operations[operation]!;
  draft.operations[operation] = { ...before, fixed };
}

function settle(draft: ShopDraft, stay: number, place: number, from: number): void {
  // Of cars in places that close, every other one may stand on.
  const standsOn = draft.places[place]!.open !== undefined && stay % 2 === 1;
  draft.stays[stay] = { ...draft.stays[stay]!, fixed: { place, from, ...(standsOn ? { standsOn } : {}) } };
}
