import { solve } from '../../../src/engine/solve.ts';
import { compilePlan } from '../../../src/promise/simulate/compile-plan.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import { commonRules } from '../../../src/promise/simulate/simulation-input.ts';
import { fromMoments } from '../../../src/promise/spread/log-normal.ts';
import { makeBook } from '../books/book.ts';

/** Time of 2,000 scenarios of a 50-job plan, on one core. `npx tsc -p tests/bench/promise/tsconfig.json`, then run. */
const problem = makeBook({ seed: 3, jobs: 50, bays: 6, people: 10 });
const solution = solve(problem, { seed: 1, workLimit: 0 });
if (solution.schedule === null) throw new Error(`no plan: ${solution.status}`);
const { schedule } = solution;
const factors = problem.operations.map(() => fromMoments(1.05, 0.12 ** 2));
const began = performance.now();
const plan = compilePlan(problem, schedule, commonRules);
const compiled = performance.now();
console.log(
  `compile ${(compiled - began).toFixed(0)} ms, ${plan.order.length} nodes, ${plan.arcFrom.length} arcs, ${plan.leftOut} left out`,
);
for (let round = 0; round < 3; round++) {
  const from = performance.now();
  const result = simulate({ problem, schedule, factors, scenarios: 2000, seed: 7 });
  const ms = performance.now() - from;
  const kept = result.jobs.flatMap(({ promiseKept }) => (promiseKept === null ? [] : [promiseKept]));
  console.log(
    `${ms.toFixed(0)} ms; promises kept ${(kept.reduce((a, b) => a + b, 0) / kept.length).toFixed(3)}, ` +
      `remedies ${result.presence.filter((p) => p > 0 && p < 1).length}, broken windows ${result.brokenWindows.toFixed(2)}, ` +
      `stayed on ${result.stayedOn.meanMinutes.toFixed(0)} min, unfinished ${Math.max(...result.jobs.map((j) => j.beyondHorizon))}`,
  );
}
