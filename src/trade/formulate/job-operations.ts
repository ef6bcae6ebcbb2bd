import type { Mode, Operation } from '../../engine/problem/problem.ts';
import type { OperationKey, TechnicianId } from '../model/ids.ts';
import type { Car } from './car.ts';
import type { FormulatedOperation } from './formulation.ts';
import type { ProblemDraft } from './problem-draft.ts';
import { crewOf } from './remaining-work.ts';
import type { StepInstance } from './step-instance.ts';

export type DescribedOperation = Omit<Operation, 'name' | 'job'>;

/** Which part of its instance an operation is, and how far that is. */
export interface PartAndState {
  readonly part: FormulatedOperation['part'];
  readonly state: FormulatedOperation['state'];
}

/** Work that needs no more planning: it was done or is in hand, from `start` to `end`. */
export interface Fact {
  readonly start: number;
  readonly end: number;
  readonly mode: Mode;
}

/** The operations of one job as they come into the draft. */
export class JobOperations {
  readonly #car: Car;
  readonly #draft: ProblemDraft;

  constructor(car: Car, draft: ProblemDraft) {
    this.#car = car;
    this.#draft = draft;
  }

  /** @returns the operation's index. */
  push(instance: StepInstance, operation: DescribedOperation, { part, state }: PartAndState): number {
    const { index, job } = this.#car;
    const { operations, formulatedOperations } = this.#draft;
    const key = (part === 'rest' ? `${instance.key}.rest` : instance.key) as OperationKey;
    operations.push({ name: key, job: index, ...operation });
    formulatedOperations.push({
      jobId: job.id,
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
    return operations.length - 1;
  }

  /** @returns the operation's index. */
  pushFact(
    instance: StepInstance,
    stay: number | undefined,
    { start, end, mode }: Fact,
    partAndState: PartAndState,
  ): number {
    const where = stay === undefined ? {} : { stay };
    const fixed = { start, end, mode: 0, by: 'fact' } as const;
    return this.push(instance, { ...where, modes: [mode], pausable: true, presence: 'always', fixed }, partAndState);
  }
}

/** What a step takes of those who did it or are doing it. */
export function usesOfPeople(car: Car, { step }: StepInstance, by: readonly TechnicianId[]): Mode['uses'] {
  const { attendance } = step;
  if (attendance.kind === 'unattended') return [];
  const amount = attendance.kind === 'watched' ? attendance.sharePercent : 100;
  return crewOf(car, by).map(({ resource }) => ({ resource, amount }));
}

function labelOf({ step, key }: StepInstance, part: FormulatedOperation['part']): string {
  const number = /\.(\d+)$/.exec(key)?.[1];
  const numbered = number === undefined ? step.label : `${step.label} (${number})`;
  return part === 'rest' ? `${numbered}, continued` : numbered;
}
