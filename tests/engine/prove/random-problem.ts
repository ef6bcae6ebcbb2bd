import type {
  Job,
  Lag,
  Mode,
  Operation,
  Problem,
  Progress,
  Resource,
  Tier,
} from '../../../src/engine/problem/problem.ts';

/** Small numbers from a seed (Park and Miller's generator). */
export class Dice {
  private state: number;

  constructor(seed: number) {
    this.state = (seed * 48271 + 11) % 2147483647 || 1;
    for (let k = 0; k < 3; k++) this.below(2);
  }

  /** 0..n-1. */
  below(n: number): number {
    this.state = (this.state * 48271) % 2147483647;
    return Math.floor((this.state / 2147483647) * n);
  }

  chance(percent: number): boolean {
    return this.below(100) < percent;
  }
}

export interface Flavour {
  readonly operations: number;
  readonly horizon: number;
  readonly modes: boolean;
  readonly calendars: boolean;
  readonly maximumLags: boolean;
  readonly tiers: readonly Tier[];
}

/** A random plain problem small enough to enumerate. */
export function randomProblem(seed: number, flavour: Flavour): Problem {
  const dice = new Dice(seed);
  const { horizon } = flavour;
  const resources = Array.from({ length: 2 }, (_, k): Resource => {
    const capacity = 1 + dice.below(3);
    const resource: Resource = { name: `r${k}`, capacity, kind: dice.chance(50) ? 'person' : 'equipment' };
    if (!flavour.calendars || dice.chance(60)) return resource;
    const from = dice.below(3);
    return { ...resource, open: [{ from, to: Math.max(from + 1, horizon - dice.below(4)) }] };
  });
  const shift: Progress = {
    at: [dice.below(2), 3 + dice.below(2), 5 + dice.below(3)],
    rate: [1 + dice.below(2), 0, 1],
  };
  const jobs = [0, 1].map((k): Job => {
    const due = { at: 2 + dice.below(horizon - 2), weight: 1 + dice.below(3) };
    const job = { name: `j${k}`, stays: [], release: dice.chance(30) ? dice.below(3) : 0, ready: k };
    if (dice.chance(40)) return { ...job, promise: due };
    return dice.chance(70) ? { ...job, due, promise: { at: due.at + 1, weight: 2 } } : job;
  });
  const common = flavour.calendars && dice.chance(50);
  const operations = Array.from({ length: flavour.operations }, (_, k): Operation => {
    const pausable = common && dice.chance(50);
    const modes = Array.from({ length: flavour.modes ? 1 + dice.below(3) : 1 }, (): Mode => {
      const mode: Mode = {
        work: dice.chance(10) ? 0 : 1 + dice.below(3),
        uses: [0, 1].filter(() => dice.chance(60)).map((resource) => ({ resource, amount: dice.below(3) })),
      };
      const bound = common || (flavour.calendars && dice.chance(30)) ? { ...mode, progress: 0 } : mode;
      return flavour.calendars && dice.chance(15) ? { ...bound, allowed: [{ from: 1, to: horizon - 1 }] } : bound;
    });
    return {
      name: `o${k}`,
      job: k % 2,
      modes,
      pausable,
      ...(pausable && dice.chance(30) ? { longestPause: 2 } : {}),
      ...(pausable && dice.chance(30) ? { leastFirstPiece: 2 } : {}),
      ...(dice.chance(15) ? { release: dice.below(3) } : {}),
      ...(dice.chance(15) ? { deadline: horizon - dice.below(4) } : {}),
      ...(dice.chance(6) ? { fixed: { start: dice.below(4), by: 'frozen' as const } } : {}),
      presence: 'always',
    };
  });
  const lags: Lag[] = [];
  for (let k = 0; k < flavour.operations - 1; k++) {
    const from = dice.below(flavour.operations);
    const to = dice.below(flavour.operations);
    if (from === to) continue;
    const min = dice.below(6) - 2;
    lags.push({
      from: { operation: from, edge: dice.chance(50) ? 'start' : 'end' },
      to: { operation: to, edge: dice.chance(70) ? 'start' : 'end' },
      min,
      ...(flavour.maximumLags && dice.chance(50) ? { max: min + dice.below(4) } : {}),
    });
  }
  const takenResources = Array.from({ length: dice.below(3) }, () => {
    const from = dice.below(horizon);
    return { resource: dice.below(2), amount: 1 + dice.below(2), from, to: from + 1 + dice.below(3) };
  });
  return {
    horizon,
    now: dice.chance(20) ? 1 : 0,
    progresses: [shift],
    resources,
    budgets: [],
    places: [],
    zones: [],
    airLabels: [],
    airExclusions: [],
    jobs,
    operations,
    stays: [],
    lags,
    branches: [],
    sameCrew: [],
    airSpans: [],
    stills: [],
    takenPlaces: [],
    takenResources,
    tiers: flavour.tiers,
  };
}
