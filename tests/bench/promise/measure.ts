import { solve } from '../../../src/engine/solve.ts';
import { compilePlan } from '../../../src/promise/simulate/compile-plan.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import { commonRules } from '../../../src/promise/simulate/simulation-input.ts';
import { fromMoments } from '../../../src/promise/spread/log-normal.ts';
import { makeBook } from '../books/book.ts';
import { clockOf } from '../figures/clock.ts';
import { machine } from '../figures/machine.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { median } from '../figures/quantile.ts';
import { type OneCar, type OneCarBook, oneCarAtATime } from './one-car.ts';

/**
 * `npm run bench:promise`: time of 2,000 scenarios of an invented 50-job plan on one core, and how far the simulation of one
 * car is from carrying out all. Processor time, not wall time.
 */
const ROUNDS = 5;
const problem = makeBook({ seed: 3, jobs: 50, bays: 6, people: 10 });
const { schedule, status } = solve(problem, { seed: 1, workLimit: 0 });
if (schedule === null) throw new Error(`the book has no plan: ${status}`);
const factors = problem.operations.map(() => fromMoments(1.05, 0.12 ** 2));

const compiled = milliseconds(() => compilePlan(problem, schedule, commonRules));
console.log(`compiled ${problem.operations.length} operations in ${compiled.toFixed(0)} ms`);
for (let round = 0; round < ROUNDS; round++) {
  const used = milliseconds(() => simulate({ problem, schedule, factors, scenarios: 2000, seed: 7 }));
  console.log(`2000 scenarios in ${used.toFixed(0)} ms`);
}

const BOOKS: readonly OneCarBook[] = [
  { jobs: 50, copies: 1, seed: 101, everyNth: 2 },
  { jobs: 500, copies: 3, seed: 101, everyNth: 12 },
];
console.log(`\nOne car at a time; ${machine()}\n`);
const rows = BOOKS.map((book) => {
  const cars = oneCarAtATime(book, clockOf('cpu'));
  const middle = (of: (car: OneCar) => number) => figure(median(cars.map(of)));
  return [
    `${book.jobs}`,
    `${cars.length}`,
    middle(({ neighbours }) => neighbours),
    middle(({ aloneMs }) => aloneMs),
    middle(({ neighboursMs }) => neighboursMs),
    figure(100 * Math.max(...cars.map(({ differ }) => differ))),
  ];
});
const HEAD = ['jobs', 'cars asked', 'neighbours', 'ms a car', 'ms with all of them', '% of runs that differ, at most'];
console.log(markdownTable(HEAD, rows));

function milliseconds(work: () => unknown): number {
  const clock = clockOf('cpu');
  const began = clock();
  work();
  return clock() - began;
}
