import { describe, expect, test } from 'vitest';
import { check } from '../../src/engine/check/check.ts';
import { measure } from '../../src/engine/check/objective.ts';
import { openBook } from '../../src/engine/quote.ts';
import { solve } from '../../src/engine/solve.ts';
import { makeBook } from '../bench/books/book.ts';
import { firstJobs } from '../bench/books/first-jobs.ts';

const whole = makeBook({ seed: 8, jobs: 16, bays: 4, people: 5 });
const before = firstJobs(whole, 12);
const { schedule } = solve(before, { seed: 1, workLimit: 0 });

describe('a quote for one more car', () => {
  const extended = firstJobs(whole, 13);

  test('offers several drop-offs, each in a later opening, and moves nobody', () => {
    const placements = openBook(before, schedule!).quote(extended, { alternatives: 4 });
    expect(placements).toHaveLength(4);
    for (const [k, placement] of placements.entries()) {
      expect(check(extended, placement.schedule)).toEqual([]);
      expect(measure(extended, placement.schedule)).toEqual(placement.objective);
      expect(placement.schedule.operations.slice(0, before.operations.length)).toEqual(schedule!.operations);
      const handover = placement.schedule.operations[extended.jobs[12]!.handover!]!;
      expect(placement.pickup).toBe(handover.start);
      if (k > 0) expect(placement.dropOff).toBeGreaterThan(placements[k - 1]!.dropOff);
    }
  });

  test('shortens the stay without putting off a pickup that nobody promised or wanted by an hour', () => {
    let shorter = 0;
    for (let jobs = 13; jobs <= 16; jobs++) {
      const problem = firstJobs(whole, jobs);
      const { promise: _, due: __, ...unpromised } = problem.jobs[12]!;
      const asked = {
        ...firstJobs(whole, 13),
        jobs: [...problem.jobs.slice(0, 12), { ...unpromised, release: 1440 * (jobs - 13) }],
      };
      const [first] = openBook(before, schedule!).quote(asked);
      const [short] = openBook(before, schedule!).quote(asked, { shortStay: true });
      expect(short!.pickup).toBeLessThanOrEqual(first!.pickup);
      expect(short!.dropOff).toBeGreaterThanOrEqual(first!.dropOff);
      if (short!.dropOff > first!.dropOff) shorter++;
    }
    expect(shorter).toBeGreaterThan(0);
  });

  test('leaves the book as it was: asked again it answers the same', () => {
    const book = openBook(before, schedule!);
    expect(book.quote(extended, { alternatives: 2 })).toEqual(book.quote(extended, { alternatives: 2 }));
  });

  test('can be asked for one bay only', () => {
    const bay = extended.stays[extended.jobs[12]!.stays[0]!]!.places.at(-1)!;
    const [placement] = openBook(before, schedule!).quote(extended, { firstPlaces: [bay] });
    expect(placement!.place).toBe(bay);
  });

  test('counts on what was accepted before it', () => {
    const book = openBook(before, schedule!);
    for (let jobs = 13; jobs <= 16; jobs++) {
      const problem = firstJobs(whole, jobs);
      const [placement] = book.quote(problem, { notBefore: 0 });
      expect(check(problem, placement!.schedule)).toEqual([]);
      book.accept(problem, placement!);
    }
  });

  test('refuses a problem that is not the book and one more job', () => {
    expect(() => openBook(before, schedule!).quote(before)).toThrow(/jobs: 13 expected/);
  });
});
