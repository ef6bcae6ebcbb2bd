import type {
  Schedule,
  PlannedOperation as ScheduledOperation,
  PlannedStay as ScheduledStay,
} from '../../engine/problem/solution.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { wholeOf } from '../../trade/formulate/previous.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';

/**
 * What a plan says, as a schedule to start a search from. Operations are those the formulation recognises of its book's
 * previous plan; stays are read off the work done in them and the moves between them. It need not obey the rules any
 * more: the solver keeps of it what does.
 */
export function warmStartOf(formulation: Formulation, plan: Plan): Schedule {
  return new PlanReading(formulation, plan).schedule();
}

class PlanReading {
  readonly #formulation: Formulation;
  readonly #planned = new Map<string, PlannedOperation>();
  readonly #firstPlace = new Map<string, FirstPlace>();
  /** Moves into stays that are facts. */
  readonly #hasCome = new Set<number | undefined>();
  readonly #operations: (ScheduledOperation | null)[] = [];
  /** Operations that are in the schedule, by stay. */
  readonly #workIn: number[][] = [];
  /** Where the plan had each operation; -1 when it does not say. */
  readonly #placeOf: number[] = [];

  constructor(formulation: Formulation, plan: Plan) {
    const { axis, places, problem } = formulation;
    this.#formulation = formulation;
    for (const each of plan.operations) this.#planned.set(`${each.jobId} ${each.operation}`, each);
    for (const { jobId, placeId, from } of plan.stays) {
      if (this.#firstPlace.has(jobId)) continue;
      this.#firstPlace.set(jobId, { place: places.indexOf(placeId), from: axis.toMinute(from, 'floor') });
    }
    for (const { fixed, move } of problem.stays) {
      this.#workIn.push([]);
      if (fixed !== undefined) this.#hasCome.add(move);
    }
  }

  schedule(): Schedule {
    const { problem } = this.#formulation;
    for (let o = 0; o < problem.operations.length; o++) this.#operations.push(this.#operation(o));
    const stays: (ScheduledStay | null)[] = new Array(problem.stays.length).fill(null);
    for (let j = 0; j < problem.jobs.length; j++) {
      const { handover } = problem.jobs[j]!;
      const present = this.#presentStays(j);
      const last = handover === undefined ? null : this.#operations[handover];
      for (let k = 0; k < present.length; k++) {
        const { stay, place, from } = present[k]!;
        stays[stay] = { place, from, to: present[k + 1]?.from ?? Math.max(from, last?.end ?? from) };
      }
    }
    return { operations: this.#operations, stays };
  }

  #operation(o: number): ScheduledOperation | null {
    const { problem, axis, places, operations } = this.#formulation;
    const { jobId, key, part, role } = operations[o]!;
    const { fixed, stay } = problem.operations[o]!;
    const whole = part === 'rest' ? this.#planned.get(`${jobId} ${wholeOf(key)}`) : undefined;
    const before = this.#planned.get(`${jobId} ${key}`) ?? whole;
    this.#placeOf.push(before?.placeId == null ? -1 : places.indexOf(before.placeId));
    const said = problem.previous?.operations[o];
    const isFact = fixed?.by === 'fact';
    if (!isFact && (before === undefined || said == null)) return null;
    // Where a car has come to meanwhile is told by the facts.
    if (!isFact && role === 'move' && said!.start < problem.now && this.#hasCome.has(o)) return null;
    if (stay !== undefined) this.#workIn[stay]!.push(o);
    if (isFact) return { start: fixed.start, end: fixed.end ?? fixed.start, mode: fixed.mode ?? 0 };
    return { start: said!.start, end: axis.toMinute(before!.end, 'floor'), mode: said!.mode };
  }

  /** The stays of a job that the plan has: where work is done or a move leads, and where a car waits from drop-off on. */
  #presentStays(j: number): Present[] {
    const { problem, jobs } = this.#formulation;
    const first = this.#firstPlace.get(jobs[j]!.job.id);
    const { stays, arrival } = problem.jobs[j]!;
    const dropOff = arrival === undefined ? undefined : this.#operations[arrival]?.start;
    const present: Present[] = [];
    for (const stay of stays) {
      const { move, fixed, optional, places } = problem.stays[stay]!;
      const moved = move === undefined ? null : this.#operations[move];
      const waits = present.length === 0 && !optional && first !== undefined && places.includes(first.place);
      const place =
        fixed?.place ?? this.#placeOfWork(stay) ?? (moved != null ? this.#placeOf[move!]! : waits ? first.place : -1);
      if (place < 0) continue;
      const before = present.at(-1);
      const left = before && this.#doneIn(before);
      const from = fixed?.from ?? moved?.end ?? left ?? dropOff ?? first?.from ?? 0;
      present.push({ stay, place, from });
    }
    return present;
  }

  #placeOfWork(stay: number): number | undefined {
    for (const o of this.#workIn[stay]!) if (this.#placeOf[o]! >= 0) return this.#placeOf[o];
    return undefined;
  }

  /** When the last work of a stay is done, and the car has come. */
  #doneIn({ stay, from }: Present): number {
    let done = from;
    for (const o of this.#workIn[stay]!) done = Math.max(done, this.#operations[o]!.end);
    return done;
  }
}

interface FirstPlace {
  readonly place: number;
  readonly from: number;
}

interface Present {
  readonly stay: number;
  readonly place: number;
  readonly from: number;
}
