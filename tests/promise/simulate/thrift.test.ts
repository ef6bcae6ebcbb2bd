import { expect, it } from 'vitest';
import { Simulation, simulate } from '../../../src/promise/simulate/simulate.ts';
import type { SimulationInput } from '../../../src/promise/simulate/simulation-input.ts';
import { follows, operation, planned, problemOf } from './small-problem.ts';

/** Two pieces of work, one after the other, each a log-normal factor of what was planned. */
const input: SimulationInput = {
  problem: problemOf({
    operations: [operation('first', { work: 100 }), operation('second', { work: 100 })],
    lags: [follows(0, 1)],
  }),
  schedule: planned([
    [0, 100],
    [100, 200],
  ]),
  factors: [
    { logMean: 0, logDeviation: 0.3 },
    { logMean: 0, logDeviation: 0.3 },
  ],
  scenarios: 200,
  seed: 1,
};

it('where all scenarios are too much work, the first of them are carried out, the very same', () => {
  const { scenarios } = simulate({ ...input, thrift: { steps: 150, least: 10 } });
  expect(scenarios).toBeLessThan(200);
  expect(scenarios).toBeGreaterThanOrEqual(10);
  expect(simulate({ ...input, thrift: { steps: 150, least: 10 } })).toEqual(simulate({ ...input, scenarios }));
});

it('there are as many as asked for where that is little work, and the least where it is much', () => {
  expect(simulate({ ...input, thrift: { steps: 10_000, least: 10 } })).toEqual(simulate(input));
  expect(simulate({ ...input, thrift: { steps: 1, least: 10 } }).scenarios).toBe(10);
});

it('those carried out after a first look make, with it, what all of them make at once', () => {
  const simulation = new Simulation(input);
  const roughly = simulation.after(48);
  expect(roughly).toEqual(simulate({ ...input, scenarios: 48 }));
  expect(simulation.after(200)).toEqual(simulate(input));
  expect(roughly.jobs[0]!.ready).toHaveLength(48);
});
