import type { Problem } from '../../../src/engine/problem/problem.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeBook } from '../books/book.ts';
import { makeSeedBook } from '../books/seed-book.ts';
import type { Clock } from '../figures/clock.ts';

/** `recipes`: bookings of the seed's recipes, through formulation. `plain`: coating jobs only, as the engine's tests have them. */
export type BookKind = 'recipes' | 'plain';

export interface BookSpec {
  readonly kind: BookKind;
  readonly jobs: number;
  /** Times the seed's shop of 4 bays and 5 people; the plain book has as many bays and people. */
  readonly copies: number;
}

/** A Monday, before the shop opens. */
const NOW = Date.UTC(2026, 2, 2, 5) as Instant;

export interface MadeBook {
  readonly problem: Problem;
  readonly formulateMs: number;
}

export function bookOf({ kind, jobs, copies }: BookSpec, seed: number, clock: Clock): MadeBook {
  if (kind === 'plain') {
    return { problem: makeBook({ seed, jobs, bays: 4 * copies, people: 5 * copies }), formulateMs: 0 };
  }
  const book = makeSeedBook({ shopId: ShopId.parse('bench'), seed, jobs, copies, now: NOW });
  const began = clock();
  const { problem, leftOut } = formulate(book);
  const formulateMs = clock() - began;
  if (leftOut.length > 0) throw new Error(`${leftOut.length} jobs left out: ${JSON.stringify(leftOut[0])}`);
  return { problem, formulateMs };
}
