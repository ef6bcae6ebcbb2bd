import { describe, expect, it } from 'vitest';
import type { Exchange, Incumbent } from '../../../src/engine/prove/exchange.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { BALANCED } from '../../../src/engine/prove/strategy.ts';
import { endToStart, hardShop, plainProblem } from './a-shop.ts';

/** Another proof that has told one thing each, and remembers what it is told. */
function other(incumbent: Incumbent | undefined, bound: number) {
  const told = { incumbents: [] as Incumbent[], bounds: [] as number[] };
  let left = incumbent;
  const exchange: Exchange = {
    hasNews: () => left !== undefined,
    newest() {
      const news = left;
      left = undefined;
      return news;
    },
    bound: () => bound,
    tellBound: (_tier, value) => told.bounds.push(value),
    tellIncumbent: (each) => told.incumbents.push(each),
  };
  return { exchange, told };
}

const on = (resource: number, work: number) => ({ modes: [{ work, uses: [{ resource, amount: 1 }] }] });
/** Three jobs on two machines; the best takes the 9 minutes of work on the first machine: 3, 4, then 2 once its 3 on the other are done. */
const small = plainProblem(
  [on(0, 3), on(1, 2), on(0, 4), on(1, 1), on(1, 3), on(0, 2)],
  [endToStart(0, 1), endToStart(2, 3), endToStart(4, 5)],
  [1, 1],
);

describe('a proof among others', () => {
  it('tells its schedules, each better than the last, and a bound that ends at the best', () => {
    const { exchange, told } = other(undefined, 0);
    const solution = prove(small, { seed: 1, workLimit: 1e7 }, BALANCED, exchange);
    expect(solution.status).toBe('optimal');
    expect(solution.objective).toEqual([9]);
    expect(told.incumbents.at(-1)!.objective).toEqual([9]);
    const lengths = told.incumbents.map(({ objective }) => objective[0]!);
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
    expect(Math.max(...told.bounds)).toBe(9);
  });

  it('stops at once when another has told a schedule and a bound that meet', () => {
    const problem = hardShop();
    const alone = prove(problem, { seed: 3, workLimit: 2_000_000 });
    // Whatever the others have proved is believed.
    const { exchange } = other({ schedule: alone.schedule!, objective: alone.objective! }, alone.objective![0]!);
    const solution = prove(problem, { seed: 4, workLimit: 1e9 }, BALANCED, exchange);
    expect(solution.status).toBe('optimal');
    expect(solution.objective).toEqual(alone.objective);
    expect(solution.work).toBeLessThan(alone.work);
  });

  it('never keeps a schedule worse than one it was told', () => {
    const problem = hardShop();
    const alone = prove(problem, { seed: 3, workLimit: 3_000_000 });
    const { exchange, told } = other({ schedule: alone.schedule!, objective: alone.objective! }, 0);
    const solution = prove(problem, { seed: 3, workLimit: 100_000 }, BALANCED, exchange);
    expect(solution.objective![0]).toBeLessThanOrEqual(alone.objective![0]!);
    for (const { objective } of told.incumbents.slice(1)) expect(objective[0]).toBeLessThan(alone.objective![0]!);
  });
});
