import type { Plan } from '../../trade/model/plan.ts';
import { type PackedBook, unpackBook } from '../planning/packed-book.ts';
import { type Packed, unpack } from '../planning/packed-value.ts';
import { begins } from '../planning/thread-task.ts';
import type { SoldFrom } from './desk.ts';
import { patienceAfter } from './patience.ts';
import { createResidentBooks, type DeskReply, type DeskTask } from './resident-books.ts';

/** A task as it travels to the desk's thread. */
export interface PackedTask extends Omit<DeskTask, 'book' | 'sold'> {
  readonly book?: PackedBook;
  readonly sold?: Omit<SoldFrom, 'plan'> & { readonly plan: Packed<Plan> };
  /** Shared memory. */
  readonly unanswered: Int32Array;
}

/** Questions that have no answer yet, in memory that the thread which serves counts in. */
let unanswered: Int32Array | undefined;
/** When somebody asked last, and how much patience whoever asks now has. */
let askedAt = Number.NEGATIVE_INFINITY;
let mostMs = 0;

const answer = createResidentBooks({
  clock: () => performance.now(),
  othersWait: () => unanswered !== undefined && Atomics.load(unanswered, 0) > 1,
  mostMs: () => mostMs,
});

function deskTask({ book, sold, unanswered: counted, ...task }: PackedTask): DeskReply {
  unanswered = counted;
  if (task.question.kind === 'slots') {
    const now = performance.now();
    mostMs = patienceAfter(now - askedAt);
    askedAt = now;
  }
  return answer({
    ...task,
    ...(book === undefined ? {} : { book: unpackBook(book) }),
    // Unpacked only where the car is not taken in yet.
    ...(sold === undefined
      ? {}
      : {
          sold: {
            ...sold,
            get plan() {
              return unpack(sold.plan);
            },
          },
        }),
  });
}

/** What runs in the desk's thread: it stays, and keeps the books open between questions. */
export default begins(deskTask);
