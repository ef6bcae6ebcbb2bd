import { NEVER } from '../calendar/never.ts';
import type { JobModel } from './job-model.ts';
import { JobPlan } from './job-plan.ts';

/** A way to have brought a job as far as the end of one stay. */
export class Label {
  readonly plan: JobPlan;
  /** By operation, 1 when it is to be placed. */
  readonly present: Uint8Array;
  /** When the car can leave: the end of the last work of the stay. */
  time = 0;
  /** Until when the place is free for it to stay; NEVER without bound. */
  gapEnd = NEVER;
  /** Stage of the last stay that is present; -1 before drop-off. */
  stage = -1;

  constructor(operations: number, stages: number) {
    this.plan = new JobPlan(operations, stages);
    this.present = new Uint8Array(operations);
  }

  copyFrom(other: Label): void {
    this.plan.copyFrom(other.plan);
    this.present.set(other.present);
    this.time = other.time;
    this.gapEnd = other.gapEnd;
    this.stage = other.stage;
  }

  /** Place of the last stay; -1 before drop-off. */
  get place(): number {
    return this.stage < 0 ? -1 : this.plan.place[this.stage]!;
  }
}

/** Labels to be used again and again, large enough for any job seen so far. */
export class LabelPool {
  #labels: Label[] = [];
  #used = 0;
  #operations = 0;
  #stages = 0;

  /** Forgets all labels handed out, and makes sure that `job` fits. */
  reset(job: JobModel): void {
    this.#used = 0;
    if (job.operations.length <= this.#operations && job.stages.length <= this.#stages) return;
    this.#operations = Math.max(job.operations.length, this.#operations);
    this.#stages = Math.max(job.stages.length, this.#stages);
    this.#labels = [];
  }

  take(): Label {
    if (this.#used === this.#labels.length) this.#labels.push(new Label(this.#operations, this.#stages));
    return this.#labels[this.#used++]!;
  }
}

/** The few labels that are free first, one a place. */
export function keepBest(labels: Label[], width: number): Label[] {
  if (width === 1) return labels.length === 0 ? [] : [firstFree(labels)];
  const seen = new Set<number>();
  const kept: Label[] = [];
  for (const label of labels.sort(byTime)) {
    if (seen.has(label.place)) continue;
    seen.add(label.place);
    kept.push(label);
    if (kept.length === width) break;
  }
  return kept;
}

/** The time by which `width` labels in different places are free; NEVER when there are fewer. */
export function enoughBy(labels: readonly Label[], width: number): number {
  if (labels.length < width) return NEVER;
  if (width === 1) return firstFree(labels).time;
  const kept = keepBest([...labels], width);
  return kept.length < width ? NEVER : kept[width - 1]!.time;
}

function byTime(a: Label, b: Label): number {
  return a.time - b.time || b.gapEnd - a.gapEnd;
}

function firstFree(labels: readonly Label[]): Label {
  let first = labels[0]!;
  for (const label of labels) {
    if (label.time < first.time || (label.time === first.time && label.gapEnd > first.gapEnd)) first = label;
  }
  return first;
}
