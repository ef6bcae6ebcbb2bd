import { LRUCache } from 'lru-cache';
import type { Book } from '../../trade/formulate/book.ts';
import { openResidentBook } from '../planning/open-resident-book.ts';
import type { Inserted, ResidentBook } from '../planning/resident-book.ts';
import { answerDesk } from './answer-desk.ts';
import type { DeskAnswer, DeskQuestion, SoldFrom, WhichBook } from './desk.ts';
import type { Patience } from './patience.ts';

/** Books held open at once; of more shops the one asked longest ago is closed. */
export const MOST_OPEN = 4;
/** Cars answered about last that may be sold any moment. */
const MOST_ABOUT_TO_BE_SOLD = 8;

export interface DeskTask {
  readonly shopId: string;
  readonly key: string;
  /** Left out in the hope that the book is open already. */
  readonly book?: Book;
  readonly sold?: SoldFrom;
  readonly which: WhichBook;
  readonly question: DeskQuestion;
  readonly seed: number;
}

/** Where the book is not open: ask again with it. */
export type DeskReply = DeskAnswer | { readonly kind: 'notOpen' };

interface Open {
  key: string;
  readonly resident: ResidentBook | null;
  /** By the car's job: where it goes if it is sold. */
  readonly aboutToBeSold: LRUCache<string, Inserted>;
}

/** Books held open, by shop, and answers from them. */
export function createResidentBooks(patience: Patience): (task: DeskTask) => DeskReply {
  const open = new LRUCache<string, Open>({ max: MOST_OPEN });
  return ({ shopId, key, book, sold, which, question, seed }) => {
    let known = open.get(shopId);
    if (known !== undefined && sold !== undefined && known.key === sold.key && takesIn(known, sold)) known.key = key;
    // Whoever asks of a book that was open is answered from the one that is: they are opened in the order they stood in.
    if (known === undefined || (known.key !== key && which === 'this')) {
      if (book === undefined) return { kind: 'notOpen' };
      // The book before is let go first: two at once would take twice the memory.
      known = undefined;
      open.delete(shopId);
      const aboutToBeSold = new LRUCache<string, Inserted>({ max: MOST_ABOUT_TO_BE_SOLD });
      known = { key, resident: openResidentBook(book, seed), aboutToBeSold };
      open.set(shopId, known);
    }
    if (question.kind === 'open') return { kind: 'open' };
    const { resident, aboutToBeSold } = known;
    if (resident === null) return { kind: 'cannotTell' };
    return answerDesk(resident, question, seed, patience, (kept) => aboutToBeSold.set(kept.job.id, kept));
  };
}

/** Takes the car that was sold into the open book, which then stands as its next plan says. */
function takesIn({ resident, aboutToBeSold }: Open, { jobId, plan }: SoldFrom): boolean {
  const kept = aboutToBeSold.get(jobId);
  // Where the others' cars go was found without this one.
  aboutToBeSold.clear();
  return kept !== undefined && (resident?.accept(kept, plan) ?? false);
}
