import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { solve } from '../../../src/engine/solve.ts';
import { type BindingRule, bindingRules, RULES } from './binding.ts';
import { randomShop } from './random-shop.ts';

/** Shops planned once and left so, and shops whose plans are improved as well. */
const FIRST_PLANS = 2000;
const IMPROVED_PLANS = 150;
const IMPROVING_WORK = 3000;

/** What the checker says against a plan, for reading: the seed, then the sentences. */
function complaints(seed: number, workLimit: number, onPlan: (rules: Set<BindingRule>) => void): string[] {
  const problem = randomShop(seed);
  const { schedule, objective } = solve(problem, { seed, workLimit });
  if (schedule === null) return [];
  onPlan(bindingRules(problem, schedule));
  const texts = check(problem, schedule).map(({ invariant, rule, text }) => `${invariant} ${rule}: ${text}`);
  const measured = measure(problem, schedule).join();
  if (measured !== objective!.join()) texts.push(`objective told as ${objective}, measured as ${measured}`);
  return texts.map((text) => `seed ${seed}: ${text}`);
}

describe('thousands of random shops', () => {
  test('get plans that obey every rule and cost what the solver says, with each kind of rule binding in a tenth or more', () => {
    const binding = new Map(RULES.map((rule) => [rule, 0]));
    let plans = 0;
    const wrong: string[] = [];
    for (let seed = 0; seed < FIRST_PLANS; seed++) {
      wrong.push(
        ...complaints(seed, 0, (rules) => {
          plans++;
          for (const rule of rules) binding.set(rule, binding.get(rule)! + 1);
        }),
      );
    }
    const shares = [...binding].map(([rule, count]) => `${rule} ${count}`).join(', ');
    console.log(`${plans} plans of ${FIRST_PLANS} random shops; binding: ${shares}.`);
    expect(wrong.slice(0, 10)).toEqual([]);
    expect(plans).toBeGreaterThan(FIRST_PLANS * 0.8);
    for (const [rule, count] of binding) expect(count, rule).toBeGreaterThanOrEqual(plans / 10);
  }, 600_000);

  test('keep obeying every rule while their plans are improved', () => {
    const wrong: string[] = [];
    for (let seed = 0; seed < IMPROVED_PLANS; seed++) {
      wrong.push(...complaints(50_000 + seed, IMPROVING_WORK, () => {}));
    }
    expect(wrong.slice(0, 10)).toEqual([]);
  }, 600_000);
});
