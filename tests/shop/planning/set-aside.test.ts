import { expect, test } from 'vitest';
import { solve } from '../../../src/engine/solve.ts';
import {
  namedSetAside,
  type QuickSolve,
  setAsideBefore,
  whateverIsLeft,
} from '../../../src/shop/planning/set-aside.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import type { Formulation } from '../../../src/trade/formulate/formulation.ts';
import { JobId } from '../../../src/trade/model/ids.ts';
import { aJob, at } from '../../trade/formulate/a-job.ts';
import { smallShop } from '../../trade/formulate/small-shop.ts';

const jobs = ['car0', 'car1', 'car2'].map((id) => aJob('small', { id }));
const book = smallShop({ now: at('2026-06-01T08:00Z'), jobs });
const [, second] = jobs.map(({ id }) => JobId.parse(id));
const naming = async ({ operations }: Formulation) => ({
  parts: operations.map((_, index) => ({ kind: 'operation' as const, index, text: 'no place' })),
  minimal: false,
});
const nothing = { schedule: null, objective: null, bound: [], work: 1, interrupted: false } as const;

/** Finds no plan as long as the second car is in it, and says so. */
const unlessSecond: QuickSolve = async (formulation) => {
  const named = formulation.operations.findIndex(({ jobId }) => jobId === second);
  if (named < 0) return solve(formulation.problem, { seed: 1, workLimit: 1 });
  const parts = [{ kind: 'operation' as const, index: named, text: 'no place' }];
  return { ...nothing, status: 'unknown', conflict: { parts, minimal: false } };
};

test('the car that the search names is set aside, and no more than are needed', async () => {
  const formulation = formulate(book);
  const { conflict } = await unlessSecond(formulation);
  expect([...(await namedSetAside(book, unlessSecond, { formulation, conflict }, 2))!]).toEqual([second]);
  expect(await namedSetAside(book, unlessSecond, { formulation, conflict: undefined }, 2)).toBeNull();
  const always: QuickSolve = async (each) => ({ ...nothing, status: 'unknown', conflict: await naming(each) });
  expect(await namedSetAside(book, always, { formulation, conflict }, 2)).toBeNull();
});

test('with every decision given up, whoever the search names is set aside until the others have a plan', async () => {
  const left = await whateverIsLeft(book, unlessSecond);
  expect([...left!.aside!]).toEqual([second]);
  expect([...left!.dropOffsOf!]).toEqual(jobs.map(({ id }) => id));
});

test('a search that names nobody leaves nobody out of turn, and there is an end', async () => {
  const never: QuickSolve = async () => ({ ...nothing, status: 'unknown' });
  expect([...(await whateverIsLeft(book, never))!.aside!]).toEqual(jobs.map(({ id }) => id));
});

test('a search that was cut short says nothing of any car', async () => {
  const cut: QuickSolve = async () => ({ ...nothing, status: 'unknown', interrupted: true });
  expect(await whateverIsLeft(book, cut)).toBeNull();
});

test('cars in no plan, though there is one, were set aside', () => {
  expect(setAsideBefore(book).size).toBe(0);
  const plan = { jobs: [{ jobId: jobs[0]!.id }, { jobId: jobs[2]!.id }] } as never;
  expect([...setAsideBefore({ ...book, previousPlan: plan })]).toEqual([second]);
});
