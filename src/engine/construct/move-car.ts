import { NEVER } from '../calendar/never.ts';
import type { Book } from './book.ts';
import { ANY_CREW, type EarliestFit } from './earliest-fit.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import { LagWindow } from './lag-window.ts';

/** A car that can leave its place from `time` on and has to by `gapEnd`, with what is planned of its job. */
export interface Standing {
  readonly plan: JobPlan;
  /** By operation, 1 when it is there. */
  readonly present: Uint8Array;
  readonly time: number;
  readonly gapEnd: number;
  readonly place: number;
}

/** Finds the earliest move of a car into a gap of its next place: a driver, both places free, no car in the way, the car not still. */
export class CarMover {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  readonly #window = new LagWindow();
  start = 0;
  end = 0;
  mode = -1;
  /** After a failure: whether a later gap of the same place is of no use either. */
  tooLate = false;

  constructor(book: Book, fit: EarliestFit) {
    this.#book = book;
    this.#fit = fit;
  }

  /** Finds the move into stage `k` at `place`, whose gap is [gapFrom, gapEnd); the answer is in `start`, `end`, `mode`. */
  find(job: JobModel, work: Standing, k: number, place: number, gapFrom: number, gapEnd: number): boolean {
    const { shop } = this.#book;
    const move = job.stages[k]!.move;
    this.tooLate = true;
    if (move < 0) return false;
    const operation = job.operations[move]!;
    const latestEnd = Math.min(gapEnd, work.gapEnd, operation.deadline, shop.horizon);
    const window = this.#window;
    const ready = Math.max(work.time, shop.now, operation.release, operation.fixedStart);
    window.read(job, work.plan, work.present, move, ready);
    const latestStart = operation.fixing === 'open' ? window.latestStart : operation.fixedStart;
    const earliestEnd = Math.max(gapFrom, window.earliestEnd);
    let earliest = window.earliest;
    if (operation.fixing === 'pinned') {
      this.start = operation.fixedStart;
      this.end = operation.fixedEnd;
      this.mode = operation.fixedMode;
      return (
        this.start >= earliest &&
        this.end >= earliestEnd &&
        this.end <= latestEnd &&
        this.#clearFrom(job, work.plan, work.place, place, this.start, this.end) < 0
      );
    }
    for (;;) {
      if (!this.#fit.find(operation, -1, earliest, earliestEnd, latestStart, latestEnd, ANY_CREW)) {
        this.tooLate = latestEnd < gapEnd;
        return false;
      }
      const clear = this.#clearFrom(job, work.plan, work.place, place, this.#fit.start, this.#fit.end);
      if (clear < 0) {
        this.start = this.#fit.start;
        this.end = this.#fit.end;
        this.mode = this.#fit.mode;
        return true;
      }
      if (clear >= NEVER) return false;
      earliest = clear;
    }
  }

  /** The end of what keeps the car from moving in [start, end); -1 when nothing does. */
  #clearFrom(job: JobModel, plan: JobPlan, from: number, to: number, start: number, end: number): number {
    const { levels, shop } = this.#book;
    const target = shop.places[to]!;
    let clear = levels.lastAbove(target.cars, start, end, 0);
    if (target.blocks) clear = Math.max(clear, levels.lastAbove(target.passages, start, end, 0));
    for (const passed of [target, shop.places[from]!]) {
      for (const blocker of passed.blockedBy) {
        clear = Math.max(clear, levels.lastAbove(shop.places[blocker]!.cars, start, end, 0));
      }
    }
    for (const still of job.stills) {
      if (plan.mode[still.from]! < 0) continue;
      const begins = plan.edge(still.from, still.fromEnd);
      const ends = plan.mode[still.to]! < 0 ? NEVER : plan.edge(still.to, still.toEnd);
      if (begins < ends && start < ends && end > begins) clear = Math.max(clear, ends);
    }
    return clear;
  }
}
