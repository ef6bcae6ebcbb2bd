import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';
import { Invalid } from '../problems/problems.ts';
import type { AlsoAnswer } from '../requests/answer-once.ts';
import { type Sale, sell } from './sell.ts';

export interface Hold extends Omit<Sale, 'state' | 'holdUntil'> {
  /** 1 to 60 minutes, or up to 2880 with a deposit note. */
  readonly holdMinutes: number;
}

/** A slot is kept for so long on somebody's word, and for so long against a deposit; common practice. */
const ON_WORD_MINUTES = 60;
const ON_DEPOSIT_MINUTES = 2880;

/**
 * Keeps a slot for a while: the job is in the plan, state `held`, and leaves it by the clock unless confirmed.
 * @throws Refused, NothingFits, SlotGone (with the next that fits), Invalid (holdMinutes, dropOffAt, pickupAt), Busy
 */
export async function hold(deps: PlanningDeps, input: Hold, alsoAnswer?: AlsoAnswer<JobView>): Promise<JobView> {
  const { holdMinutes, depositNote } = input;
  const most = depositNote.trim() === '' ? ON_WORD_MINUTES : ON_DEPOSIT_MINUTES;
  if (!Number.isInteger(holdMinutes) || holdMinutes < 1 || holdMinutes > most) {
    const more = most === ON_WORD_MINUTES ? `; with a deposit note up to ${ON_DEPOSIT_MINUTES}` : '';
    throw new Invalid(`A slot is held for 1 to ${most} minutes${more}.`, 'holdMinutes');
  }
  const holdUntil = (deps.clock() + holdMinutes * 60_000) as Instant;
  return sell(deps, { ...input, state: 'held', holdUntil }, alsoAnswer);
}
