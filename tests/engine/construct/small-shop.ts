import { Book } from '../../../src/engine/construct/book.ts';
import { compileJobs } from '../../../src/engine/construct/compile-job.ts';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { ShopModel } from '../../../src/engine/construct/shop-model.ts';
import type { Problem, Resource } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';

export const DAY = 1440;

/** A person who works from 8:00 to 17:00 on each of `days` days. */
export function dayWorker(name: string, days: number): Resource {
  const open = Array.from({ length: days }, (_, day) => ({ from: day * DAY + 480, to: day * DAY + 1020 }));
  return { name, capacity: 100, kind: 'person', open };
}

export function bookOf(problem: Problem): Book {
  const shop = new ShopModel(problem);
  return new Book(shop, compileJobs(shop, problem));
}

/** The first plan alone, without any improvement; it must exist. */
export function planned(problem: Problem): Schedule {
  const book = bookOf(problem);
  const blocked = firstPlan(book, new JobInserter(book), BY_SLACK, () => false);
  if (blocked.length > 0) throw new Error(`job ${blocked[0]!.job} found no time`);
  return scheduleOf(book);
}
