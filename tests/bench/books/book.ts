import type {
  AirSpan,
  Edge,
  Job,
  Lag,
  Mode,
  Operation,
  Problem,
  SameCrew,
  Stay,
  Still,
} from '../../../src/engine/problem/problem.ts';
import { seededRandom } from '../../engine/random/seeded-random.ts';
import { DAY_MINUTES, isWorkday, makeShop } from './shop.ts';

export interface BookSize {
  readonly seed: number;
  readonly jobs: number;
  readonly bays: number;
  readonly people: number;
}

const DUST = 0;
const OPEN_COATING = 1;
const MIST = 2;

/**
 * An invented book of coating jobs that about fills an invented shop: some twenty operations a job, from intake to
 * handover, through a wet bay, a bay for correction and one for coating, with the yard to wait in. Wipe and coat
 * are tied by a window whose remedy is a second wipe, the second layer by a recoat window, correction draws on a
 * daily budget of machine polishing, and dust keeps away from open coating. Every figure is invented.
 */
export function makeBook({ seed, jobs: count, bays, people }: BookSize): Problem {
  const random = seededRandom(seed);
  const dryBayDays = 3.4;
  const perDay = (bays - Math.max(1, Math.floor(bays / 4))) / dryBayDays;
  const workdaysNeeded = Math.ceil(count / perDay) * 2 + 30;
  const days = Math.ceil((workdaysNeeded * 7) / 5) + 7;
  const shop = makeShop(bays, people, days);
  const jobs: Job[] = [];
  const operations: Operation[] = [];
  const stays: Stay[] = [];
  const lags: Lag[] = [];
  const sameCrew: SameCrew[] = [];
  const airSpans: AirSpan[] = [];
  const stills: Still[] = [];
  const edge = (operation: number, at: Edge) => ({ operation, edge: at });
  const workdayOf = (k: number) => {
    let day = -1;
    for (let left = k; left >= 0; left--)
      do day++;
      while (!isWorkday(day));
    return day;
  };

  for (let j = 0; j < count; j++) {
    const releaseDay = workdayOf(Math.floor(j / perDay + random.whole(0, 2) * 0.5));
    const size = random.whole(80, 130) / 100;
    const by = (who: readonly number[], minutes: number, extra: Partial<Mode> = {}): Mode[] =>
      who.map((person) => ({
        work: Math.round(minutes * size),
        progress: person,
        uses: [{ resource: person, amount: 100 }],
        ...extra,
      }));
    const add = (name: string, stay: number | undefined, modes: readonly Mode[], extra: Partial<Operation> = {}) => {
      operations.push({
        name,
        job: j,
        ...(stay === undefined ? {} : { stay }),
        modes,
        pausable: false,
        presence: 'always',
        ...extra,
      });
      return operations.length - 1;
    };
    const follow = (from: number, to: number, min = 0, max?: number, remedy?: number[]) =>
      lags.push({
        from: edge(from, 'end'),
        to: edge(to, 'start'),
        min,
        ...(max === undefined ? {} : { max }),
        ...(remedy ? { remedy } : {}),
      });
    const move = () =>
      add(
        'move',
        undefined,
        shop.drivers.map((p) => ({ work: 10, progress: p, uses: [{ resource: p, amount: 100 }] })),
        {
          presence: 'optional',
        },
      );
    const stay = (places: readonly number[], optional: boolean, first = false) => {
      stays.push({ job: j, places, optional, ...(first ? {} : { move: move() }) });
      return stays.length - 1;
    };
    const alone = (minutes: number): Mode[] => [{ work: minutes, uses: [] }];
    const washer = { resource: people, amount: 1 };
    const wet = (minutes: number) =>
      by(shop.washers, minutes).map((mode) => ({ ...mode, uses: [...mode.uses, washer] }));
    const polish = (minutes: number) =>
      by(shop.polishers, minutes).map((mode) => ({ ...mode, budget: mode.progress! }));
    const pausable: Partial<Operation> = { pausable: true, leastFirstPiece: 30, longestPause: 4 * DAY_MINUTES };

    const washing = stay(shop.wetBays, false, true);
    const intake = add('intake', washing, by(shop.leads, 25));
    const wheels = add('wheels', washing, wet(75));
    const decontamination = add('decontamination', washing, wet(45));
    const wash = add('wash', washing, wet(40));
    const clay = add('clay', washing, by(shop.washers, 40), { pausable: true, leastFirstPiece: 10 });
    const dryOut = add('dry-out', washing, alone(60));
    const waiting = stay(shop.yard, true);
    const correcting = stay(shop.dryBays, false);
    const inspection = add('inspection', correcting, by(shop.leads, 20));
    const mask = add('mask', correcting, by(shop.polishers, 35));
    const compound = add('compound', correcting, polish(random.whole(150, 420)), pausable);
    const finish = add('finish', correcting, polish(random.whole(90, 200)), pausable);
    const dusting = add('dust removal', correcting, by(shop.washers, 40));
    const coating = stay(shop.dryBays, false);
    const wipe = add('wipe', coating, by(shop.coaters, 35));
    const rewipe = add('wipe again', coating, by(shop.coaters, 25), { presence: 'optional' });
    const coat = add('coat', coating, by(shop.coaters, 100));
    const second = random.chance(0.4) ? add('second layer', coating, by(shop.coaters, 80)) : coat;
    const moveSafe = add('move-safe', coating, alone(180));
    const cure = add('cure', coating, alone(12 * 60));
    const pickup = stay([...shop.dryBays, ...shop.yard], false);
    const final = add('final inspection', pickup, by(shop.leads, 30));
    const handover = add('handover', pickup, by(shop.leads, 30));

    for (const [from, to] of [
      [intake, wheels],
      [wheels, decontamination],
      [decontamination, wash],
      [wash, clay],
      [clay, dryOut],
      [inspection, mask],
      [mask, compound],
      [compound, finish],
      [finish, dusting],
      [dusting, wipe],
      [wipe, rewipe],
      [rewipe, coat],
      [second, moveSafe],
      [second, cure],
      [cure, final],
      [final, handover],
    ] as const) {
      follow(from, to, 0, from === rewipe ? 30 : undefined);
    }
    follow(wipe, coat, 0, 30, [rewipe]);
    if (second !== coat) {
      follow(coat, second, 60, 240);
      sameCrew.push({ first: coat, second, held: false });
    }
    airSpans.push({ label: MIST, stay: washing, from: edge(wheels, 'start'), to: edge(wash, 'end') });
    airSpans.push({ label: DUST, stay: correcting, from: edge(compound, 'start'), to: edge(finish, 'end') });
    airSpans.push({ label: OPEN_COATING, stay: coating, from: edge(wipe, 'start'), to: edge(moveSafe, 'end') });
    stills.push({ job: j, from: edge(wipe, 'start'), to: edge(moveSafe, 'end') });

    const release = releaseDay * DAY_MINUTES + 8 * 60;
    const promiseDay = workdayOf(Math.floor(j / perDay) + random.whole(3, 7));
    jobs.push({
      name: `job ${j + 1}`,
      stays: [washing, waiting, correcting, coating, pickup],
      release,
      dropOffOpen: shop.opening,
      pickupOpen: shop.opening,
      arrival: intake,
      handover,
      ready: final,
      ...(random.chance(0.8)
        ? { promise: { at: promiseDay * DAY_MINUTES + 17 * 60, weight: random.whole(1, 3) } }
        : { due: { at: promiseDay * DAY_MINUTES + 17 * 60, weight: 1 } }),
    });
  }
  return {
    horizon: days * DAY_MINUTES,
    now: 0,
    progresses: shop.progresses,
    resources: shop.resources,
    budgets: shop.budgets,
    places: shop.places,
    zones: shop.zones,
    airLabels: ['dust', 'open coating', 'mist'],
    airExclusions: shop.zones.flatMap((_, zone) => [
      { zone, first: DUST, second: OPEN_COATING, settleAfterFirst: 30, settleAfterSecond: 0 },
      { zone, first: MIST, second: OPEN_COATING, settleAfterFirst: 15, settleAfterSecond: 0 },
    ]),
    jobs,
    operations,
    stays,
    lags,
    branches: [],
    sameCrew,
    airSpans,
    stills,
    takenPlaces: [],
    takenResources: [],
    tiers: ['broken', 'tardiness', 'overtime', 'lead'],
  };
}
