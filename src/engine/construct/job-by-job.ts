import type { Book } from './book.ts';
import { dropOff } from './job-cost.ts';

/** Jobs after which to tell what was gained. */
const PART = 100;

/** One job after another until told to stop; `onPart` is called now and then, and at the end. */
export function* jobByJob(order: readonly number[], stop: () => boolean, onPart: () => void): Generator<number> {
  for (let k = 0; k < order.length; k++) {
    if (k > 0 && k % PART === 0) onPart();
    if (stop()) break;
    yield order[k]!;
  }
  onPart();
}

interface Coming {
  readonly job: number;
  readonly at: number;
}

/** All jobs, which must be entered, by their drop-off. */
export function lastToComeFirst(book: Book): number[] {
  const coming: Coming[] = [];
  for (let j = 0; j < book.jobs.length; j++) coming.push({ job: j, at: dropOff(book.jobs[j]!, book.plans[j]!) });
  coming.sort(byLastComing);
  const order: number[] = [];
  for (const { job } of coming) order.push(job);
  return order;
}

function byLastComing(a: Coming, b: Coming): number {
  return b.at - a.at || a.job - b.job;
}
