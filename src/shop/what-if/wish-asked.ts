import type { Book } from '../../trade/formulate/book.ts';
import type { Job, Wish } from '../../trade/model/job.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';
import { Invalid, NotFound, WrongState } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import type { WhatIf } from './what-if-request.ts';

const DAY = 24 * 3_600_000;
/** No wish is for longer ahead: the plan is stretched to it. */
const MOST_DAYS_AHEAD = 90;

/** What is asked about: a car of the book, one of its operations as the standing plan has it, and the wish. */
export interface WishAsked {
  readonly job: Job;
  readonly operation: PlannedOperation;
  readonly wish: Wish;
  readonly standing: Plan;
}

/** @throws NotFound (job, operation), WrongState (no plan, nothing left to begin), Invalid (the hour) */
export function wishAsked(book: Book, asked: WhatIf): WishAsked {
  const job = book.jobs.find((each) => each.id === asked.jobId);
  if (job === undefined) throw new NotFound('open job', asked.jobId, 'jobId');
  const standing = book.previousPlan;
  if (standing === null) throw new WrongState('There is no plan yet.', 'jobId');
  const ofJob = standing.operations.filter((each) => each.jobId === job.id && each.kind !== 'move');
  const operation =
    asked.operation === null
      ? ofJob.find(({ state }) => state === 'planned' || state === 'paused')
      : (ofJob.find((each) => each.operation === `${asked.operation}.rest`) ??
        ofJob.find((each) => each.operation === asked.operation));
  if (operation === undefined) {
    if (asked.operation !== null) throw new NotFound('operation of this car', asked.operation, 'operation');
    throw new WrongState('Nothing of this car is left to begin.', 'operation');
  }
  if (operation.state === 'finished' || operation.state === 'underWay') {
    throw new WrongState(`"${operation.label}" has begun already; what has happened stays.`, 'operation');
  }
  for (const field of ['startAt', 'notBefore'] as const) {
    const at = asked[field];
    if (at === null) continue;
    if (at < book.now) throw new Invalid('That hour has passed.', field);
    if (at > book.now + MOST_DAYS_AHEAD * DAY)
      throw new Invalid(`That is more than ${MOST_DAYS_AHEAD} days ahead.`, field);
  }
  const { placeId, startAt, notBefore, personId } = asked;
  const wish = {
    operation: operation.operation,
    placeId,
    startAt,
    notBefore,
    personId,
    madeAt: book.now,
    planBefore: standing.version,
  };
  return { job, operation, wish, standing };
}

/** What forbids a wish before anything is planned. */
export function objectionsTo({ job, operation, wish }: WishAsked): Objection[] {
  const objections: Objection[] = [];
  const isTold = operation.kind === 'intake' && job.state !== 'inShop' && job.dropOffAt !== null;
  if (isTold && (wish.startAt !== null || wish.notBefore !== null)) {
    const text = 'The hour of drop-off was told to the customer. Agree on another one first, with "Another hour".';
    objections.push({ rule: 'toldHour', field: 'startAt', text });
  }
  if (operation.remedy) {
    const text = `"${operation.label}" is a remedy: it comes when a window has lapsed, and only then.`;
    objections.push({ rule: 'remedy', field: 'operation', text });
  }
  if (wish.personId !== null && operation.people.length === 0) {
    objections.push({ rule: 'unattended', field: 'personId', text: `"${operation.label}" takes nobody's hands.` });
  }
  return objections;
}

/** The job with the wish instead of an older one for the same operation. */
export function withWish(job: Job, wish: Wish): Job {
  const others = (job.wishes ?? []).filter((each) => each.operation !== wish.operation);
  return { ...job, wishes: [...others, wish] };
}
