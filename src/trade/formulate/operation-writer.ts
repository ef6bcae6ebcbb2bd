import type { Mode, Operation } from '../../engine/problem/problem.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { Car } from './car.ts';
import type { CrewNeed } from './crews.ts';
import type { RecordedPiece } from './floor-record.ts';
import { type DescribedOperation, type Fact, JobOperations, usesOfPeople } from './job-operations.ts';
import type { ModeMaker, ModeWish } from './modes.ts';
import { isPausable } from './pausable.ts';
import type { ProblemDraft } from './problem-draft.ts';
import { restNormMinutes } from './remaining-work.ts';
import { isUnattended, type Settled } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import { workInHand } from './work-in-hand.ts';

/** Indices of the operations an instance became: one, or two when it was interrupted. */
export interface Written {
  /** The operation that holds its start. */
  readonly first: number;
  /** The operation that holds its end. */
  readonly last: number;
}

/** Where and how an instance is to be written. */
export interface Placing {
  /** Index into the problem's stays; absent for work where the car does not stand any more. */
  readonly stay: number | undefined;
  /** The same for the part of it that is a fact: the stay at the present place, or none. */
  readonly factStay: number | undefined;
  readonly places: readonly number[];
  readonly presence: Operation['presence'];
  readonly settled?: Settled | undefined;
  readonly alsoNeeded: readonly CrewNeed[];
  readonly only?: readonly TechnicianId[] | undefined;
  readonly including?: TechnicianId | undefined;
  readonly release?: number | undefined;
  readonly frozenStart?: number | undefined;
  /** Minute since which unattended work has in truth been going on, though nothing says so. */
  readonly since?: number | undefined;
}

/** Writes one job's instances into the draft as operations: facts as facts, the rest with its ways of being done. */
export class OperationWriter {
  readonly #car: Car;
  readonly #maker: ModeMaker;
  readonly #operations: JobOperations;

  constructor(car: Car, draft: ProblemDraft, maker: ModeMaker) {
    this.#car = car;
    this.#maker = maker;
    this.#operations = new JobOperations(car, draft);
  }

  /** @throws CannotPlan when nobody, nothing or no place can do it. */
  write(instance: StepInstance, placing: Placing): Written {
    const { record } = instance;
    const { settled } = placing;
    if (settled !== undefined) return whole(this.#settled(instance, placing, settled));
    if (record === undefined || record.pieces.length === 0) return whole(this.#planned(instance, placing, 'whole'));
    const open = record.state === 'underWay';
    if (open && record.pieces.length === 1) return whole(this.#underWay(instance, placing, 'whole'));
    const ended = open ? record.pieces.slice(0, -1) : record.pieces;
    const first = this.#done(instance, placing, ended, open);
    const last = open
      ? this.#underWay(instance, placing, 'rest')
      : this.#planned(instance, { ...placing, presence: 'always' }, 'rest');
    return { first, last };
  }

  #settled(instance: StepInstance, { factStay }: Placing, { start, end, by }: Settled): number {
    const state = end > this.#car.frame.now ? 'underWay' : 'finished';
    return this.#operations.pushFact(instance, factStay, this.#past(instance, by, start, end), {
      part: 'whole',
      state,
    });
  }

  /** What has been done of interrupted work. */
  #done(instance: StepInstance, { factStay }: Placing, pieces: readonly RecordedPiece[], goesOn: boolean): number {
    const { axis } = this.#car.frame;
    const last = pieces.at(-1)!;
    const start = axis.toMinute(pieces[0]!.from, 'floor');
    const end = axis.toMinute(last.to!, 'floor');
    const fact = this.#past(instance, last.by, start, end);
    return this.#operations.pushFact(instance, factStay, fact, { part: 'done', state: goesOn ? 'finished' : 'paused' });
  }

  #past(instance: StepInstance, by: readonly TechnicianId[], start: number, end: number): Fact {
    return { start, end, mode: { work: end - start, uses: usesOfPeople(this.#car, instance, by) } };
  }

  #underWay(instance: StepInstance, { factStay }: Placing, part: 'whole' | 'rest'): number {
    const fact = workInHand(this.#car, this.#maker, instance, part);
    return this.#operations.pushFact(instance, factStay, fact, { part, state: 'underWay' });
  }

  #planned(instance: StepInstance, placing: Placing, part: 'whole' | 'rest'): number {
    const { step } = instance;
    const modes = this.#maker.modes(this.#car, this.#wish(instance, placing, part));
    const pausable = isPausable(step, mostWork(modes), this.#car.frame) && !isUnattended(instance);
    const { leastFirstPieceMinutes, longestPauseMinutes } = step;
    // Written field by field: a shop's book makes thousands of these each time it is planned.
    const operation: { -readonly [K in keyof DescribedOperation]: DescribedOperation[K] } = {
      modes,
      pausable,
      presence: placing.presence,
    };
    if (placing.stay !== undefined) operation.stay = placing.stay;
    if (pausable && leastFirstPieceMinutes !== undefined) operation.leastFirstPiece = leastFirstPieceMinutes;
    if (pausable && longestPauseMinutes !== undefined) operation.longestPause = longestPauseMinutes;
    if (placing.release !== undefined) operation.release = placing.release;
    if (placing.frozenStart !== undefined) operation.fixed = { start: placing.frozenStart, by: 'frozen' };
    return this.#operations.push(instance, operation, { part, state: part === 'rest' ? 'paused' : 'planned' });
  }

  #wish(instance: StepInstance, placing: Placing, part: 'whole' | 'rest'): ModeWish {
    const { step, record, breakdown } = instance;
    const norm = part === 'rest' ? restNormMinutes(this.#car, instance, record!.pieces) : breakdown.minutes;
    const wish: { -readonly [K in keyof ModeWish]: ModeWish[K] } = {
      step,
      minutes: step.duration.by === 'dataSheet' ? null : norm,
      places: placing.places,
      earliest: Math.max(this.#car.frame.now, placing.release ?? 0),
      alsoNeeded: placing.alsoNeeded,
    };
    if (placing.since !== undefined) wish.since = placing.since;
    if (placing.including !== undefined) wish.including = placing.including;
    if (placing.only !== undefined) wish.only = placing.only;
    return wish;
  }
}

function whole(operation: number): Written {
  return { first: operation, last: operation };
}

function mostWork(modes: readonly Mode[]): number {
  let most = 0;
  for (const { work } of modes) most = Math.max(most, work);
  return most;
}
