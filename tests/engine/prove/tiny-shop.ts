import type { Lag, Mode, Operation, Problem, Stay } from '../../../src/engine/problem/problem.ts';
import { at, blankProblem, endToStart } from '../random/blank-problem.ts';
import { type SeededRandom, seededRandom } from '../random/seeded-random.ts';

const OPTIONAL = { presence: 'optional' as const };

/**
 * A shop small enough to try every plan of, a pure function of its seed: two cars of two or three short operations, two or
 * three places, one of them perhaps behind another or closed for a while, two people with a break, and now and then a branch, a
 * remedy, air that must not meet, a span of standing still, people tied to two operations, a capped machine, something
 * taken, something frozen or happened.
 */
export function tinyShop(seed: number): Problem {
  const random = seededRandom(seed);
  const horizon = random.whole(7, 8);
  const gap = random.whole(2, 4);
  const open = [
    { from: 0, to: gap },
    { from: gap + 1, to: horizon },
  ];
  const places = Array.from({ length: random.whole(2, 3) }, (_, p) => ({
    name: `place ${p}`,
    turnaround: random.whole(0, 1),
    blockedBy: p > 0 && random.chance(0.3) ? [p - 1] : [],
    ...(random.chance(0.7) ? { zone: 0 } : {}),
    ...(random.chance(0.15) ? { open: [{ from: random.whole(0, 1), to: random.whole(5, horizon) }] } : {}),
  }));
  const draft = new Draft(random, places.length);
  for (let job = 0; job < 2; job++) draft.addVisit(job, horizon);
  const base = blankProblem({
    horizon,
    progresses: [{ at: [0, open[0]!.to, open[1]!.from], rate: [1, 0, 1] }],
    resources: [
      { name: 'person 0', capacity: 100, kind: 'person', open, overtime: [{ from: open[1]!.from, to: horizon }] },
      { name: 'person 1', capacity: 100, kind: 'person' },
    ],
    budgets: [{ name: 'machine', windows: [{ from: 1, to: 5 }], limit: random.whole(1, 3) }],
    places,
    zones: ['hall'],
    airLabels: ['dust', 'coating'],
    airExclusions: [
      { zone: 0, first: 0, second: random.whole(0, 1), settleAfterFirst: random.whole(0, 1), settleAfterSecond: 0 },
    ],
    jobs: draft.jobs,
    operations: draft.operations,
    stays: draft.stays,
    lags: draft.lags,
    branches: draft.branches,
    sameCrew: draft.sameCrew,
    airSpans: draft.airSpans,
    stills: draft.stills,
    takenPlaces: random.chance(0.2) ? [{ place: 0, from: 2, to: 3 }] : [],
    takenResources: random.chance(0.2) ? [{ resource: 1, amount: 50, from: 1, to: 3 }] : [],
    tiers: random.pick([
      ['tardiness', 'lead'],
      ['broken', 'overtime', 'lead'],
      ['overtime', 'tardiness'],
      ['makespan', 'lead'],
      ['lead'],
    ]),
  });
  return withStanding(withPrevious(base, random), random);
}

/** Where cars stand counts last, in some shops, and not the same in all places. */
function withStanding(problem: Problem, random: SeededRandom): Problem {
  if (!random.chance(0.3)) return problem;
  const places = problem.places.map((place) => ({ ...place, standingCost: random.whole(0, 3) }));
  return { ...problem, places, tiers: [...problem.tiers, 'standing'] };
}

function withPrevious(problem: Problem, random: SeededRandom): Problem {
  if (!random.chance(0.25)) return problem;
  const operations = problem.operations.map(({ modes }) =>
    random.chance(0.7) ? { start: random.whole(0, 5), mode: random.whole(0, modes.length - 1) } : null,
  );
  return { ...problem, previous: { operations }, tiers: [...problem.tiers, 'change'] };
}

class Draft {
  readonly jobs: Problem['jobs'][number][] = [];
  readonly operations: Operation[] = [];
  readonly stays: Stay[] = [];
  readonly lags: Lag[] = [];
  readonly branches: Problem['branches'][number][] = [];
  readonly sameCrew: Problem['sameCrew'][number][] = [];
  readonly airSpans: Problem['airSpans'][number][] = [];
  readonly stills: Problem['stills'][number][] = [];
  private readonly random: SeededRandom;
  private readonly places: number;

  constructor(random: SeededRandom, places: number) {
    this.random = random;
    this.places = places;
  }

  private someWhere(): number[] {
    return this.random.some(
      Array.from({ length: this.places }, (_, p) => p),
      1,
    );
  }

  private mode(minutes: number): Mode {
    const { random } = this;
    const person = random.whole(0, 1);
    const mode: Mode = {
      work: minutes,
      uses: random.chance(0.9) ? [{ resource: person, amount: random.pick([100, 100, 50]) }] : [],
      ...(person === 0 || random.chance(0.3) ? { progress: 0 } : {}),
      ...(random.chance(0.15) ? { budget: 0 } : {}),
    };
    return random.chance(0.1) ? { ...mode, places: this.someWhere() } : mode;
  }

  private add(name: string, job: number, stay: number | undefined, given: Partial<Operation> = {}): number {
    const { random } = this;
    const modes = Array.from({ length: random.chance(0.3) ? 2 : 1 }, () => this.mode(random.whole(1, 2)));
    const inStay = stay === undefined ? {} : { stay };
    const pausable = random.chance(0.4);
    return this.operations.push({ name, job, modes, pausable, presence: 'always', ...inStay, ...given }) - 1;
  }

  addVisit(job: number, horizon: number): void {
    const { random } = this;
    const first = this.stays.push({ job, places: this.someWhere(), optional: false }) - 1;
    const visit = [first];
    if (random.chance(0.5)) {
      const hasMove = random.chance(0.8);
      const move = hasMove ? this.add('move', job, undefined, OPTIONAL) : undefined;
      if (move !== undefined) {
        const modes = [{ work: 1, uses: random.chance(0.5) ? [{ resource: random.whole(0, 1), amount: 100 }] : [] }];
        this.operations[move] = { ...this.operations[move]!, modes, pausable: false };
      }
      const optional = random.chance(0.3);
      visit.push(
        this.stays.push({ job, places: this.someWhere(), optional, ...(move === undefined ? {} : { move }) }) - 1,
      );
    }
    const last = visit.at(-1)!;
    const one = this.add('intake', job, first);
    const two = this.add('work', job, this.stays[last]!.optional ? first : last);
    this.lags.push(endToStart(one, two, 0, random.chance(0.3) ? random.whole(0, 2) : undefined));
    if (random.chance(0.3)) this.addChoice(job, one, two, first);
    if (random.chance(0.25)) this.sameCrew.push({ first: one, second: two, held: random.chance(0.6) });
    if (random.chance(0.5)) {
      const label = random.whole(0, 1);
      this.airSpans.push({ label, stay: first, from: at(one, 'start'), to: at(random.pick([one, two]), 'end') });
    }
    if (random.chance(0.3)) this.stills.push({ job, from: at(one, 'end'), to: at(two, 'end') });
    if (random.chance(0.1)) {
      this.operations[one] = { ...this.operations[one]!, fixed: { start: random.whole(0, 3), by: 'frozen' } };
    }
    this.jobs.push({
      name: `car ${job}`,
      stays: visit,
      release: random.whole(0, 1),
      arrival: one,
      ready: two,
      ...(random.chance(0.5) ? { handover: two } : {}),
      ...(random.chance(0.2) ? { dropOffOpen: [{ from: 0, to: random.whole(2, 4) }] } : {}),
      ...(random.chance(0.2) ? { pickupOpen: [{ from: random.whole(0, 4), to: horizon }] } : {}),
      ...(random.chance(0.8) ? { promise: { at: random.whole(1, 5), weight: random.whole(1, 3) } } : {}),
    });
  }

  /** A branch of two ways between two operations, or a remedy of the lag between them. */
  private addChoice(job: number, one: number, two: number, stay: number): void {
    const { random } = this;
    const extra = this.add('extra', job, stay, OPTIONAL);
    this.lags.push(endToStart(one, extra), endToStart(extra, two));
    if (random.chance(0.5)) {
      const alternatives = random.pick([[[extra], []], [[extra]]]);
      this.branches.push({ name: 'way', alternatives });
    } else {
      this.lags.push({ ...endToStart(one, two, 0, random.whole(0, 1)), remedy: [extra] });
    }
  }
}
