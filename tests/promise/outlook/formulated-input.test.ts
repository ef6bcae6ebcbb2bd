import { describe, expect, it } from 'vitest';
import { solve } from '../../../src/engine/solve.ts';
import { formulatedInput } from '../../../src/promise/outlook/formulated-input.ts';
import { tradePriors } from '../../../src/promise/outlook/trade-priors.ts';
import { earliestPromise } from '../../../src/promise/simulate/promise-time.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import { meanOf } from '../../../src/promise/spread/log-normal.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { aJob } from '../../trade/formulate/a-job.ts';
import { seedShop } from '../../trade/formulate/seed-shop.ts';

const book = seedShop();
const formulation = formulate({
  ...book,
  jobs: book.recipes.map(({ id }) => aJob(id, { id: `job-${id}` })),
});
const { schedule } = solve(formulation.problem, { seed: 1, workLimit: 0 });
const input = formulatedInput(book, formulation, schedule!, { scenarios: 400, seed: 3 });

describe('the demo shop’s plan as input of the simulation', () => {
  it('takes the trade’s mean for every kind of work, and a data sheet at its word', () => {
    for (const [o, { kind, step }] of formulation.operations.entries()) {
      const factor = input.factors[o]!;
      if (step?.duration.by === 'dataSheet') expect(factor.logDeviation).toBe(0);
      else expect(meanOf(factor)).toBeCloseTo(meanOf(tradePriors().get(kind)!), 10);
    }
    expect(input.factors.some(({ logDeviation }) => logDeviation === 0)).toBe(true);
  });

  const surprising = (kind: string) => {
    const operations = formulation.operations.flatMap((each, o) => (each.kind === kind ? [o] : []));
    const about = input.surprises!.filter(({ effects }) => operations.includes(effects[0]!.operation));
    return { operations, about, streams: new Set(about.map(({ stream }) => stream)) };
  };

  it('lets each final inspection fail on its own, as often as the shop says', () => {
    const { operations, about, streams } = surprising('finalInspection');
    expect(operations.length).toBeGreaterThan(0);
    expect(about.map(({ effects }) => effects[0]!.operation)).toEqual(operations);
    expect(streams.size).toBe(operations.length);
    for (const { probability } of about) expect(probability).toBe(book.shop.finalInspectionFailurePercent / 100);
  });

  it('lets a car that is still to be inspected ask for more compounding, all of it together', () => {
    const { operations, about, streams } = surprising('compound');
    expect(about.flatMap(({ effects }) => effects.map(({ operation }) => operation)).sort((a, b) => a - b)).toEqual(
      operations,
    );
    expect(streams.size).toBe(new Set(operations.map((o) => formulation.operations[o]!.jobId)).size);
  });

  it('gives a car that is asked about the same luck whatever its id, and carries out only what it waits for', () => {
    const asked = 2;
    const about = formulatedInput(book, formulation, schedule!, { scenarios: 50, seed: 3, asked });
    const renamed = formulate({
      ...book,
      jobs: book.recipes.map(({ id }, j) => aJob(id, { id: j === asked ? 'another' : `job-${id}` })),
    });
    const again = formulatedInput(book, renamed, schedule!, { scenarios: 50, seed: 3, asked });
    expect(again.streams).toEqual(about.streams);
    const [one, other] = [simulate(about).jobs[asked]!, simulate(again).jobs[asked]!];
    expect(other.ready).toEqual(one.ready);
    const { of: _, ...everything } = about;
    const [asOne, asAll] = [simulate(about), simulate(everything)];
    const carriedOut = ({ presence }: typeof asOne) => presence.filter((share) => share > 0).length;
    expect(Object.keys(asOne.jobs)).toEqual([`${asked}`]);
    expect(carriedOut(asOne)).toBeLessThan(carriedOut(asAll) / 2);
  });

  it('gives later promises the surer they must be', () => {
    const { jobs } = simulate({ ...input, rules: { ...input.rules, pickups: 'asSoonAsReady' } });
    for (const [j, { pickup }] of jobs.entries()) {
      const open = formulation.problem.jobs[j]!.pickupOpen!;
      const promised = [0.5, 0.8, 0.95].map((confidence) => earliestPromise(pickup, confidence, open)!);
      expect(promised[0]!.at).toBeLessThanOrEqual(promised[1]!.at);
      expect(promised[1]!.at).toBeLessThanOrEqual(promised[2]!.at);
      expect(promised[2]!.probability).toBeGreaterThanOrEqual(0.95);
    }
  });
});
