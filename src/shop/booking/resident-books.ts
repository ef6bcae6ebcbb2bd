import type { Book } from '../../trade/formulate/book.ts';
import { openResidentBook, type ResidentBook } from '../planning/resident-book.ts';
import { answerDesk } from './answer-desk.ts';
import type { DeskAnswer, DeskQuestion } from './desk.ts';

/** Books held open at once; of more shops the one asked longest ago is closed. */
export const MOST_OPEN = 4;

export interface DeskTask {
  readonly shopId: string;
  readonly key: string;
  /** Left out in the hope that the book is open already. */
  readonly book?: Book;
  readonly question: DeskQuestion;
  readonly seed: number;
}

/** Where the book is not open: ask again with it. */
export type DeskReply = DeskAnswer | { readonly kind: 'notOpen' };

/** Books held open, by shop, and answers from them. */
export function createResidentBooks(clock: () => number): (task: DeskTask) => DeskReply {
  const open = new Map<string, { key: string; resident: ResidentBook | null }>();
  return ({ shopId, key, book, question, seed }) => {
    let known = open.get(shopId);
    if (known?.key !== key) {
      if (book === undefined) return { kind: 'notOpen' };
      known = { key, resident: openResidentBook(book, seed) };
    }
    // Whoever was asked last goes to the end of the line.
    open.delete(shopId);
    open.set(shopId, known);
    if (open.size > MOST_OPEN) open.delete(open.keys().next().value!);
    if (question.kind === 'open') return { kind: 'open' };
    return known.resident === null ? { kind: 'cannotTell' } : answerDesk(known.resident, question, seed, clock);
  };
}
