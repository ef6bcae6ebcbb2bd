import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { Book } from './book.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';

/** An entry: which operation's, which resource, from, to, how much. */
const FIELDS = 5;

/**
 * Work of the job at hand that is placed but not entered in the book, as a stack. A job seldom runs into itself, so a short list
 * beats taking everything in and out of the book. Budgets are drawn in the book at once.
 */
export class OwnWork {
  readonly #book: Book;
  readonly #pieces = new WorkedPieces();
  #entries = new Int32Array(FIELDS * 64);
  #size = 0;

  constructor(book: Book) {
    this.#book = book;
  }

  get isEmpty(): boolean {
    return this.#size === 0;
  }

  push(job: JobModel, i: number, plan: JobPlan): void {
    const mode = job.operations[i]!.modes[plan.mode[i]!]!;
    this.#book.drawBudget(mode, plan.start[i]!, plan.end[i]!, 1);
    if (mode.resources.length === 0 || plan.end[i]! <= plan.start[i]!) return;
    const pieces = this.#pieces;
    pieces.ofSpan(mode.calendar, mode.budget, plan.start[i]!, plan.end[i]!);
    for (let k = 0; k < pieces.count; k++) {
      for (let u = 0; u < mode.resources.length; u++) {
        if (this.#size + FIELDS > this.#entries.length) this.#grow();
        const entries = this.#entries;
        entries[this.#size++] = i;
        entries[this.#size++] = mode.resources[u]!;
        entries[this.#size++] = pieces.from[k]!;
        entries[this.#size++] = pieces.to[k]!;
        entries[this.#size++] = mode.amounts[u]!;
      }
    }
  }

  /** Undoes the last `push`, which must have been of operation `i`. */
  pop(job: JobModel, i: number, plan: JobPlan): void {
    this.#book.drawBudget(job.operations[i]!.modes[plan.mode[i]!]!, plan.start[i]!, plan.end[i]!, -1);
    while (this.#size > 0 && this.#entries[this.#size - FIELDS] === i) this.#size -= FIELDS;
  }

  /** The end of own work that, with what the book has, leaves no `room` of a resource in [from, to); -1 when there is room. */
  busyUntil(row: number, from: number, to: number, room: number): number {
    const entries = this.#entries;
    let amount = 0;
    let until = -1;
    for (let at = 0; at < this.#size; at += FIELDS) {
      if (entries[at + 1] !== row || entries[at + 2]! >= to || entries[at + 3]! <= from) continue;
      amount += entries[at + 4]!;
      until = Math.max(until, entries[at + 3]!);
    }
    return amount > 0 && this.#book.levels.lastAbove(row, from, to, room - amount) >= 0 ? until : -1;
  }

  #grow(): void {
    const larger = new Int32Array(this.#entries.length * 2);
    larger.set(this.#entries);
    this.#entries = larger;
  }
}
