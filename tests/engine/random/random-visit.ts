import type { Interval, Mode, Operation } from '../../../src/engine/problem/problem.ts';
import { at, endToStart } from './blank-problem.ts';
import type { SeededRandom } from './seeded-random.ts';
import { Air, byAnyOf, DAY, type ShopDraft } from './shop-draft.ts';

/** Who and what there is to do a visit with. */
export interface Crewing {
  readonly people: readonly number[];
  readonly coaters: readonly number[];
  readonly drivers: readonly number[];
  readonly lamp: number;
  readonly cureProgress: number;
  readonly wetBays: readonly number[];
  readonly cleanBays: readonly number[];
  readonly yard: readonly number[];
  readonly reception: readonly Interval[];
  readonly coatingFit: readonly Interval[];
  /** The last minute of each coater's certificate, by person. */
  readonly certifiedUntil: ReadonlyMap<number, number>;
  /** Two people working together, in the hours that both are there. */
  readonly pair: { readonly people: readonly [number, number]; readonly progress: number };
}

interface Visit {
  readonly draft: ShopDraft;
  readonly job: number;
  readonly stays: readonly number[];
}

function add(
  { draft, job }: Visit,
  name: string,
  modes: readonly Mode[],
  stay: number | undefined,
  given: Partial<Operation> = {},
): number {
  return draft.addOperation({
    name,
    job,
    modes,
    pausable: false,
    presence: 'always',
    ...(stay === undefined ? {} : { stay }),
    ...given,
  });
}

function openVisit(
  draft: ShopDraft,
  kinds: readonly { places: readonly number[]; optional: boolean }[],
  crew: Crewing,
): Visit {
  const job = draft.jobs.length;
  const first = draft.stays.length;
  const visit = { draft, job, stays: kinds.map((_, k) => first + k) };
  for (const [k, { places, optional }] of kinds.entries()) {
    const stay = { job, places, optional };
    if (k === 0) draft.stays.push(stay);
    else
      draft.stays.push({
        ...stay,
        move: add(visit, 'move', byAnyOf(crew.drivers, 5 + 5 * (k % 2)), undefined, { presence: 'optional' }),
      });
  }
  return visit;
}

/** Only while the person's certificate is valid, and only in fit conditions. */
function certified(crew: Crewing, minutes: number): Mode[] {
  return byAnyOf(crew.coaters, minutes).map((mode) => {
    const until = crew.certifiedUntil.get(mode.progress!) ?? Number.POSITIVE_INFINITY;
    const allowed = crew.coatingFit
      .filter(({ from }) => from < until)
      .map(({ from, to }) => ({ from, to: Math.min(to, until) }));
    return { ...mode, allowed };
  });
}

function machineWork(crew: Crewing, minutes: number): Mode[] {
  return crew.people.map((person) => ({
    work: minutes,
    progress: person,
    uses: [{ resource: person, amount: 100 }],
    budget: person,
  }));
}

/** Both people at one car, in somewhat more than half the time; machine hours are not counted. */
function inPairs({ pair }: Crewing, minutes: number): Mode {
  const uses = pair.people.map((person) => ({ resource: person, amount: 100 }));
  return { work: Math.ceil(minutes * 0.6), progress: pair.progress, uses };
}

/**
 * Wash, correction over one or more days, wipe and coating with their windows, a cure under lamps or by waiting, and a
 * handover at the bay or in the yard.
 */
export function addFullVisit(draft: ShopDraft, crew: Crewing, random: SeededRandom): number {
  const visit = openVisit(
    draft,
    [
      { places: crew.wetBays, optional: false },
      { places: crew.yard, optional: true },
      { places: crew.cleanBays, optional: false },
      { places: [...crew.cleanBays, ...crew.yard], optional: false },
    ],
    crew,
  );
  const [wet, , clean, last] = visit.stays as [number, number, number, number];
  const { lags, airSpans } = draft;
  const release = draft.now + random.whole(0, 2) * 60;
  const intake = add(visit, 'intake', byAnyOf(crew.people, random.whole(4, 6) * 5), wet);
  const acid = add(visit, 'acid', byAnyOf(crew.people, 10), wet);
  const rinse = add(visit, 'rinse', byAnyOf(crew.people, 15), wet);
  const wash = add(visit, 'wash', byAnyOf(crew.people, random.whole(8, 14) * 5), wet);
  lags.push(endToStart(intake, acid), endToStart(acid, rinse, 2, 8), endToStart(rinse, wash));
  draft.sameCrew.push({ first: acid, second: rinse, held: true });
  airSpans.push({ label: Air.mist, stay: wet, from: at(wash, 'start'), to: at(wash, 'end') });

  const passes = random.whole(8, 28) * 15;
  const ways = [...machineWork(crew, passes), ...(random.chance(0.3) ? [inPairs(crew, passes)] : [])];
  const compound = add(visit, 'compound', ways, clean, {
    pausable: true,
    leastFirstPiece: 30,
    longestPause: 1200,
  });
  lags.push(endToStart(wash, compound, 30));
  airSpans.push({ label: Air.dust, stay: clean, from: at(compound, 'start'), to: at(compound, 'end') });

  const wipe = add(visit, 'wipe', certified(crew, 20), clean);
  const coat = add(visit, 'coat', certified(crew, random.whole(8, 16) * 5), clean);
  const rewipe = add(visit, 'wipe again', certified(crew, 20), clean, { presence: 'optional' });
  const dustSafe = add(visit, 'dust-safe', [{ work: 0, uses: [] }], undefined);
  lags.push(
    endToStart(compound, wipe, 0),
    { ...endToStart(wipe, coat, 5, random.whole(2, 6) * 10), remedy: [rewipe] },
    endToStart(wipe, rewipe),
    endToStart(rewipe, coat, 5, 40),
    endToStart(coat, dustSafe, 120, 120),
  );
  airSpans.push(
    { label: Air.vapour, stay: clean, from: at(wipe, 'start'), to: at(wipe, 'end') },
    { label: Air.coating, stay: clean, from: at(wipe, 'start'), to: at(dustSafe, 'start') },
  );
  const coated = random.chance(0.4) ? addSecondLayer(visit, crew, random, coat, clean) : coat;
  const cured = addCure(visit, crew, random, coated, wipe, clean);
  const inspect = add(visit, 'final inspection', byAnyOf(crew.people, 20), last);
  const handover = add(visit, 'handover', byAnyOf(crew.people, 30), last);
  for (const cure of cured) lags.push(endToStart(cure, inspect));
  // What the inspection saw holds until the owner comes only for so long.
  lags.push(endToStart(inspect, handover, 0, random.pick([10, 30, 60])), {
    from: at(coated, 'end'),
    to: at(handover, 'end'),
    min: 300,
    guards: 'release-safe',
  });
  draft.jobs.push({
    name: `car ${visit.job}`,
    stays: visit.stays,
    release,
    dropOffOpen: crew.reception,
    pickupOpen: crew.reception,
    arrival: intake,
    handover,
    ready: inspect,
    promise: { at: draft.now + random.whole(1, 3) * DAY + random.whole(0, 6) * 60, weight: random.whole(1, 5) },
  });
  return visit.job;
}

function addSecondLayer({ ...visit }: Visit, crew: Crewing, random: SeededRandom, coat: number, clean: number): number {
  const second = add(visit, 'second layer', certified(crew, random.whole(6, 10) * 5), clean);
  visit.draft.lags.push(endToStart(coat, second, 60, random.whole(8, 20) * 15));
  return second;
}

/** Lamps, attended at a share and kept away from vapour, or a wait that goes on by night. */
function addCure(
  visit: Visit,
  crew: Crewing,
  random: SeededRandom,
  coated: number,
  wipe: number,
  clean: number,
): number[] {
  const { draft, job } = visit;
  const optional = { presence: 'optional' } as const;
  const lampModes = crew.people.map((person) => ({
    work: random.whole(8, 12) * 15,
    progress: person,
    uses: [
      { resource: person, amount: 25 },
      { resource: crew.lamp, amount: 1 },
    ],
  }));
  const waiting = [{ work: random.whole(480, 900) * 1000, progress: crew.cureProgress, uses: [] }];
  const wait = add(visit, 'cure', waiting, clean, { ...optional, pausable: true });
  const alternatives = [[wait]];
  draft.lags.push(endToStart(coated, wait, 0, 0));
  if (random.chance(0.6)) {
    const lamps = add(visit, 'lamps', lampModes, clean, { ...optional, pausable: true });
    alternatives.unshift([lamps]);
    draft.lags.push(endToStart(coated, lamps, 30, 180));
    draft.airSpans.push({ label: Air.ignition, stay: clean, from: at(lamps, 'start'), to: at(lamps, 'end') });
  }
  draft.branches.push({ name: 'cure', alternatives });
  for (const [cure] of alternatives) {
    draft.stills.push({ job, from: at(wipe, 'start'), to: at(cure!, 'end') });
  }
  return alternatives.flat();
}

/** A maintenance wash: the car may wait in the yard first, and goes home from the wet bay or the yard. */
export function addShortVisit(draft: ShopDraft, crew: Crewing, random: SeededRandom): number {
  const visit = openVisit(
    draft,
    [
      { places: crew.yard, optional: true },
      { places: crew.wetBays, optional: false },
      { places: [...crew.wetBays, ...crew.yard], optional: false },
    ],
    crew,
  );
  const [, wet, last] = visit.stays as [number, number, number];
  const wash = add(visit, 'wash', byAnyOf(crew.people, random.whole(6, 14) * 5), wet);
  const dry = add(visit, 'dry', byAnyOf(crew.people, random.whole(3, 6) * 5), wet);
  draft.lags.push(endToStart(wash, dry, 0, random.whole(1, 3) * 5));
  const handover = random.chance(0.7) ? add(visit, 'handover', byAnyOf(crew.people, 15), last) : undefined;
  if (handover !== undefined) draft.lags.push(endToStart(dry, handover));
  draft.airSpans.push({ label: Air.mist, stay: wet, from: at(wash, 'start'), to: at(dry, 'end') });
  draft.jobs.push({
    name: `car ${visit.job}`,
    stays: visit.stays,
    release: draft.now + random.whole(0, 8) * 60,
    dropOffOpen: crew.reception,
    pickupOpen: crew.reception,
    ...(handover === undefined ? {} : { handover }),
    ready: dry,
    due: { at: draft.now + random.whole(3, 24) * 60, weight: random.whole(1, 3) },
  });
  return visit.job;
}
