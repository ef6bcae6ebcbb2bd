import type { Fixed, Mode, Operation } from '../../engine/problem/problem.ts';
import type { OperationKey, TechnicianId } from '../model/ids.ts';
import type { Car } from './car.ts';
import type { CrewNeed } from './crews.ts';
import { crewPace } from './crews.ts';
import type { FormulatedOperation } from './formulation.ts';
import { isPausable, type ModeMaker } from './modes.ts';
import type { ProblemDraft } from './problem-draft.ts';
import { endOfWork } from './progress-reading.ts';
import { crewOf, isPaced, overrunMinutes, restNormMinutes } from './remaining-work.ts';
import { isUnattended, presentZone, type Settled } from './settle.ts';
import type { StepInstance } from './step-instance.ts';

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

type Described = Omit<Operation, 'name' | 'job'>;

/** Writes instances into the draft as operations: facts as facts, the rest with its ways of being done. */
export function operationWriter(car: Car, draft: ProblemDraft, maker: ModeMaker) {
  const { frame } = car;

  const push = (
    instance: StepInstance,
    operation: Described,
    part: FormulatedOperation['part'],
    state: FormulatedOperation['state'],
  ): number => {
    const key = (part === 'rest' ? `${instance.key}.rest` : instance.key) as OperationKey;
    draft.operations.push({ name: key, job: car.index, ...operation });
    draft.formulatedOperations.push({
      jobId: car.job.id,
      key,
      kind: instance.step.kind,
      label: labelOf(instance, part),
      step: instance.step,
      role: instance.role,
      part,
      breakdown: instance.breakdown,
      ...(instance.record === undefined ? {} : { record: instance.record }),
      state,
    });
    return draft.operations.length - 1;
  };

  const people = (instance: StepInstance, by: readonly TechnicianId[]) => {
    const { attendance } = instance.step;
    if (attendance.kind === 'unattended') return [];
    const amount = attendance.kind === 'watched' ? attendance.sharePercent : 100;
    return crewOf(car, by).map(({ resource }) => ({ resource, amount }));
  };

  const fact = (
    instance: StepInstance,
    placing: Placing,
    { start, end, mode }: { start: number; end: number; mode: Mode },
    part: FormulatedOperation['part'],
    state: FormulatedOperation['state'],
  ): number => {
    const fixed: Fixed = { start, end, mode: 0, by: 'fact' };
    const where = placing.factStay === undefined ? {} : { stay: placing.factStay };
    return push(instance, { ...where, modes: [mode], pausable: true, presence: 'always', fixed }, part, state);
  };

  const past = (instance: StepInstance, by: readonly TechnicianId[], start: number, end: number): Mode => ({
    work: end - start,
    uses: people(instance, by),
  });

  /** Work that a crew has in hand: it ends when what is left is done, or a little after now when that is over already. */
  const underWay = (instance: StepInstance, placing: Placing, part: 'whole' | 'rest'): number => {
    const pieces = instance.record!.pieces;
    const { from, by } = pieces.at(-1)!;
    const start = frame.axis.toMinute(from, 'floor');
    const crew = crewOf(car, by);
    const norm = part === 'whole' ? instance.breakdown.minutes : restNormMinutes(car, instance, pieces.slice(0, -1));
    const minutes = isPaced(car, instance) ? Math.ceil((norm * 100) / crewPace(crew)) : norm;
    const pausable = isPausable(instance.step, minutes, frame) && crew.length > 0;
    const progress = pausable ? maker.crewProgress(crew) : undefined;
    const computed =
      progress === undefined
        ? start + minutes
        : (endOfWork(frame.progresses[progress]!, start, minutes) ?? start + minutes);
    const overrun = computed <= frame.now;
    const end = overrun ? frame.now + overrunMinutes(minutes) : computed;
    if (overrun) {
      const text = `"${instance.step.label}" was to take ${minutes} minutes and is not finished; it is planned to need ${end - frame.now} more.`;
      car.notices.push({ kind: 'overrun', jobId: car.job.id, operation: instance.key, text });
    }
    const mode: Mode = {
      work: Math.max(1, minutes),
      ...(progress === undefined || overrun ? {} : { progress }),
      uses: [...people(instance, by), ...maker.equipmentUses(instance.step, presentZone(car))],
    };
    return fact(instance, placing, { start, end, mode }, part, 'underWay');
  };

  const planned = (instance: StepInstance, placing: Placing, part: 'whole' | 'rest'): number => {
    const { step, record } = instance;
    const byDataSheet = step.duration.by === 'dataSheet';
    const norm = part === 'rest' ? restNormMinutes(car, instance, record!.pieces) : instance.breakdown.minutes;
    const wish = {
      step,
      minutes: byDataSheet ? null : norm,
      places: placing.places,
      earliest: Math.max(frame.now, placing.release ?? 0),
      alsoNeeded: placing.alsoNeeded,
      ...(placing.since === undefined ? {} : { since: placing.since }),
      ...(placing.including === undefined ? {} : { including: placing.including }),
    };
    const modes = maker.modes(car, placing.only === undefined ? wish : { ...wish, only: placing.only });
    const most = modes.reduce((work, mode) => Math.max(work, mode.work), 0);
    const pausable = isPausable(step, most, frame) && !isUnattended(instance);
    const { leastFirstPieceMinutes, longestPauseMinutes } = step;
    // Written field by field: a shop's book makes thousands of these each time it is planned.
    const operation: { -readonly [K in keyof Described]: Described[K] } = {
      modes,
      pausable,
      presence: placing.presence,
    };
    if (placing.stay !== undefined) operation.stay = placing.stay;
    if (pausable && leastFirstPieceMinutes !== undefined) operation.leastFirstPiece = leastFirstPieceMinutes;
    if (pausable && longestPauseMinutes !== undefined) operation.longestPause = longestPauseMinutes;
    if (placing.release !== undefined) operation.release = placing.release;
    if (placing.frozenStart !== undefined) operation.fixed = { start: placing.frozenStart, by: 'frozen' };
    return push(instance, operation, part, part === 'rest' ? 'paused' : 'planned');
  };

  /** @throws CannotPlan when nobody, nothing or no place can do it. */
  return (instance: StepInstance, placing: Placing): Written => {
    const { record } = instance;
    const { settled } = placing;
    if (settled !== undefined) {
      const { start, end, by } = settled;
      const state = end > frame.now ? 'underWay' : 'finished';
      const only = fact(instance, placing, { start, end, mode: past(instance, by, start, end) }, 'whole', state);
      return { first: only, last: only };
    }
    if (record === undefined || record.pieces.length === 0) {
      const only = planned(instance, placing, 'whole');
      return { first: only, last: only };
    }
    if (record.state === 'underWay' && record.pieces.length === 1) {
      const only = underWay(instance, placing, 'whole');
      return { first: only, last: only };
    }
    const open = record.state === 'underWay';
    const ended = open ? record.pieces.slice(0, -1) : record.pieces;
    const start = frame.axis.toMinute(ended[0]!.from, 'floor');
    const end = frame.axis.toMinute(ended.at(-1)!.to!, 'floor');
    const mode = past(instance, ended.at(-1)!.by, start, end);
    const first = fact(instance, placing, { start, end, mode }, 'done', open ? 'finished' : 'paused');
    if (open) return { first, last: underWay(instance, placing, 'rest') };
    return {
      first,
      last: planned(instance, { ...placing, presence: 'always' }, 'rest'),
    };
  };
}

export type OperationWriter = ReturnType<typeof operationWriter>;

function labelOf({ step, key }: StepInstance, part: FormulatedOperation['part']): string {
  const number = /\.(\d+)$/.exec(key)?.[1];
  const numbered = number === undefined ? step.label : `${step.label} (${number})`;
  return part === 'rest' ? `${numbered}, continued` : numbered;
}
