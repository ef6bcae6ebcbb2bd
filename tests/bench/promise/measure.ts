import { solve } from '../../../src/engine/solve.ts';
import { compilePlan } from '../../../src/promise/simulate/compile-plan.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import { commonRules } from '../../../src/promise/simulate/simulation-input.ts';
import { fromMoments } from '../../../src/promise/spread/log-normal.ts';
import { makeBook } from '../books/book.ts';

/** Time of 2,000 scenarios of an invented 50-job plan on one core: `npm run bench:promise`. Processor time, not wall time. */
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

function milliseconds(work: () => unknown): number {
  const from = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
}
