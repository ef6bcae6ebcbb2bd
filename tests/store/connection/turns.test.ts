import { expect, it } from 'vitest';
import { Turns } from '../../../src/store/connection/turns.ts';

const after = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

it('callers of one key go one after the other, in the order they came', async () => {
  const turns = new Turns();
  const log: string[] = [];
  const work = (name: string, milliseconds: number) =>
    turns.take('shop', async () => {
      log.push(`${name} in`);
      await after(milliseconds);
      log.push(`${name} out`);
    });
  await Promise.all([work('first', 20), work('second', 1), work('third', 5)]);
  expect(log).toEqual(['first in', 'first out', 'second in', 'second out', 'third in', 'third out']);
});

it('callers of different keys do not wait for each other', async () => {
  const turns = new Turns();
  let release = () => {};
  const held = turns.take('a', () => new Promise<void>((resolve) => (release = resolve)));
  expect(await turns.take('b', async () => 'through')).toBe('through');
  release();
  await held;
});

it('one that fails does not stop those behind it', async () => {
  const turns = new Turns();
  const failing = turns.take('shop', async () => {
    throw new Error('no');
  });
  const next = turns.take('shop', async () => 'next');
  await expect(failing).rejects.toThrow('no');
  expect(await next).toBe('next');
});
