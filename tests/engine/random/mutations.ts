import type { Invariant } from '../../../src/engine/check/check.ts';
import { firstUncovered } from '../../../src/engine/check/covering.ts';
import { completion } from '../../../src/engine/check/worked-pieces.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { PlannedOperation, PlannedStay, Schedule } from '../../../src/engine/problem/solution.ts';
import type { SeededRandom } from './seeded-random.ts';

/** A plan with one rule broken on purpose, and the invariant that is broken for certain (others may be, too). */
export interface Mutation {
  readonly plan: Schedule;
  readonly invariant: Invariant;
}

type Mutator = (problem: Problem, plan: Schedule, random: SeededRandom) => Mutation | undefined;

function withOperation(plan: Schedule, o: number, change: Partial<PlannedOperation> | null): Schedule {
  const operations = [...plan.operations];
  operations[o] = change === null ? null : { ...operations[o]!, ...change };
  return { ...plan, operations };
}

function withStay(plan: Schedule, s: number, change: Partial<PlannedStay>): Schedule {
  const stays = [...plan.stays];
  stays[s] = { ...stays[s]!, ...change };
  return { ...plan, stays };
}

/** The operation begun at another minute, with the end that follows; undefined when it would never end. */
function begunAt(problem: Problem, plan: Schedule, o: number, start: number): Schedule | undefined {
  const end = completion(problem, problem.operations[o]!.modes[plan.operations[o]!.mode]!, start);
  return end === undefined || start < 0 ? undefined : withOperation(plan, o, { start, end });
}

/** One of the present operations that are no facts and pass a test. */
function pickPlanned(
  problem: Problem,
  plan: Schedule,
  random: SeededRandom,
  fits: (o: number) => boolean,
): number | undefined {
  const found = [...problem.operations.keys()].filter(
    (o) => plan.operations[o] != null && problem.operations[o]!.fixed?.by !== 'fact' && fits(o),
  );
  return found.length > 0 ? random.pick(found) : undefined;
}

const startBeforeItsLag: Mutator = (problem, plan, random) => {
  const lags = problem.lags.filter(
    ({ from, to }) =>
      to.edge === 'start' &&
      plan.operations[from.operation] != null &&
      plan.operations[to.operation] != null &&
      problem.operations[to.operation]!.fixed?.by !== 'fact',
  );
  if (lags.length === 0) return undefined;
  const { from, to, min, guards } = random.pick(lags);
  const mutated = begunAt(problem, plan, to.operation, plan.operations[from.operation]![from.edge] + min - 1);
  return mutated && { plan: mutated, invariant: guards === undefined ? 1 : 6 };
};

const releaseTooEarly: Mutator = (problem, plan, random) => {
  const lags = problem.lags.filter(
    ({ guards, from, to }) =>
      guards !== undefined && plan.operations[from.operation] != null && plan.operations[to.operation] != null,
  );
  if (lags.length === 0) return undefined;
  const { from, to, min } = random.pick(lags);
  const early = plan.operations[from.operation]![from.edge] + min - 1;
  const { start, end } = plan.operations[to.operation]!;
  const shift = early - (to.edge === 'start' ? start : end);
  if (start + shift < 0) return undefined;
  return { plan: withOperation(plan, to.operation, { start: start + shift, end: end + shift }), invariant: 6 };
};

const workLeftOut: Mutator = (problem, plan, random) => {
  const o = pickPlanned(
    problem,
    plan,
    random,
    (k) => problem.operations[k]!.presence === 'always' && !problem.operations[k]!.fixed,
  );
  return o === undefined ? undefined : { plan: withOperation(plan, o, null), invariant: 1 };
};

const carInTheSameBay: Mutator = (problem, plan, random) => {
  const stays = [...problem.stays.keys()].filter(
    (s) => plan.stays[s] != null && plan.stays[s]!.to > plan.stays[s]!.from,
  );
  const pairs = stays.flatMap((s) =>
    stays.flatMap((t) => {
      const [one, other] = [plan.stays[s]!, plan.stays[t]!];
      const free = problem.stays[s]!.fixed === undefined && problem.stays[s]!.job !== problem.stays[t]!.job;
      return free && one.from < other.to && other.from < one.to ? [[s, other.place] as const] : [];
    }),
  );
  if (pairs.length === 0) return undefined;
  const [s, place] = random.pick(pairs);
  return { plan: withStay(plan, s, { place }), invariant: 2 };
};

const carNowhere: Mutator = (problem, plan, random) => {
  const followed = problem.jobs.flatMap(({ stays }) => stays.filter((s) => plan.stays[s] != null).slice(0, -1));
  if (followed.length === 0) return undefined;
  const s = random.pick(followed);
  return { plan: withStay(plan, s, { to: plan.stays[s]!.to - 1 }), invariant: 2 };
};

const personTwice: Mutator = (problem, plan, random) => {
  const handsOf = (o: number) => {
    const mode = problem.operations[o]!.modes[plan.operations[o]!.mode]!;
    return mode.work > 0
      ? mode.uses.find(({ resource, amount }) => problem.resources[resource]!.kind === 'person' && amount === 100)
          ?.resource
      : undefined;
  };
  const o = pickPlanned(problem, plan, random, (k) => handsOf(k) !== undefined);
  if (o === undefined) return undefined;
  const other = pickPlanned(problem, plan, random, (k) => k !== o && handsOf(k) === handsOf(o));
  const mutated = other === undefined ? undefined : begunAt(problem, plan, o, plan.operations[other]!.start);
  return mutated && { plan: mutated, invariant: 3 };
};

const endOff: Mutator = (problem, plan, random) => {
  const o = pickPlanned(problem, plan, random, () => true);
  return o === undefined
    ? undefined
    : { plan: withOperation(plan, o, { end: plan.operations[o]!.end + 1 }), invariant: 4 };
};

const dustOnCoating: Mutator = (problem, plan, random) => {
  const zoneOf = (stay: number) => problem.places[plan.stays[stay]?.place ?? -1]?.zone;
  const present = problem.airSpans.filter(
    ({ from, to, stay }) =>
      plan.operations[from.operation] != null && plan.operations[to.operation] != null && zoneOf(stay) !== undefined,
  );
  const pairs = problem.airExclusions.flatMap(({ zone, first, second }) =>
    present.flatMap((dust) =>
      present.flatMap((coating) => {
        const meets =
          dust.label === first &&
          coating.label === second &&
          zoneOf(dust.stay) === zone &&
          zoneOf(coating.stay) === zone;
        const free =
          dust.from.edge === 'start' &&
          dust.from.operation === dust.to.operation &&
          problem.operations[dust.from.operation]!.fixed?.by !== 'fact';
        return meets && free && dust.stay !== coating.stay ? [{ dust, coating }] : [];
      }),
    ),
  );
  if (pairs.length === 0) return undefined;
  const { dust, coating } = random.pick(pairs);
  const start = plan.operations[coating.from.operation]![coating.from.edge];
  const mutated = begunAt(problem, plan, dust.from.operation, start);
  return mutated && { plan: mutated, invariant: 5 };
};

const coatedInTheCold: Mutator = (problem, plan, random) => {
  const o = pickPlanned(problem, plan, random, (k) => {
    const allowed = problem.operations[k]!.modes[plan.operations[k]!.mode]!.allowed;
    return allowed !== undefined && firstUncovered(allowed, problem.now, problem.horizon) !== undefined;
  });
  if (o === undefined) return undefined;
  const mode = problem.operations[o]!.modes[plan.operations[o]!.mode]!;
  const mutated = begunAt(problem, plan, o, firstUncovered(mode.allowed!, problem.now, problem.horizon)!);
  return mutated && { plan: mutated, invariant: 7 };
};

const inThePast: Mutator = (problem, plan, random) => {
  const o = pickPlanned(problem, plan, random, () => true);
  const mutated = o === undefined ? undefined : begunAt(problem, plan, o, problem.now - 1);
  return mutated && { plan: mutated, invariant: 8 };
};

const factMoved: Mutator = (problem, plan, random) => {
  const facts = [...problem.operations.keys()].filter((o) => problem.operations[o]!.fixed !== undefined);
  if (facts.length === 0) return undefined;
  const o = random.pick(facts);
  const { start, end } = plan.operations[o]!;
  return { plan: withOperation(plan, o, { start: start + 1, end: end + 1 }), invariant: 8 };
};

const pickedUpAtNight: Mutator = (problem, plan, random) => {
  const jobs = problem.jobs.filter(({ handover, pickupOpen }) => handover !== undefined && pickupOpen !== undefined);
  if (jobs.length === 0) return undefined;
  const { handover, pickupOpen } = random.pick(jobs);
  const night = firstUncovered(pickupOpen!, plan.operations[handover!]!.end, problem.horizon);
  return night === undefined
    ? undefined
    : { plan: withOperation(plan, handover!, { start: night, end: night + 30 }), invariant: 9 };
};

const stayedAfterHandover: Mutator = (problem, plan, random) => {
  const { stays, handover } = random.pick(problem.jobs);
  if (handover === undefined) return undefined;
  const last = stays.findLast((s) => plan.stays[s] != null);
  return last === undefined
    ? undefined
    : { plan: withStay(plan, last, { to: plan.stays[last]!.to + 1 }), invariant: 9 };
};

export const MUTATORS: readonly Mutator[] = [
  startBeforeItsLag,
  releaseTooEarly,
  workLeftOut,
  carInTheSameBay,
  carNowhere,
  personTwice,
  endOff,
  dustOnCoating,
  coatedInTheCold,
  inThePast,
  factMoved,
  pickedUpAtNight,
  stayedAfterHandover,
];
