import { bench, describe } from 'vitest';
import { openBook } from '../../../src/engine/quote.ts';
import { solve } from '../../../src/engine/solve.ts';
import { type BookSize, makeBook } from './book.ts';
import { firstJobs } from './first-jobs.ts';

const SIZES: readonly BookSize[] = [
  { seed: 1, jobs: 20, bays: 4, people: 5 },
  { seed: 1, jobs: 200, bays: 12, people: 15 },
  { seed: 1, jobs: 1000, bays: 12, people: 15 },
];

describe.each(SIZES)('$jobs jobs, $bays bays, $people people', (size) => {
  const problem = makeBook(size);
  bench('first plan', () => void solve(problem, { seed: 1, workLimit: 0 }), { iterations: 5, time: 0 });

  const before = firstJobs(problem, size.jobs - 1);
  const book = openBook(before, solve(before, { seed: 1, workLimit: 0 }).schedule!);
  bench('quote for one more job', () => void book.quote(problem), { iterations: 50, time: 0 });
});
