import type { Records } from '../../store/store.ts';
import { readFloor } from '../../trade/formulate/floor-record.ts';
import type { MessageKind } from '../../trade/model/customer-message.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { isReady } from '../customer/stages.ts';

/** Aftercare is written of while it still matters. */
const AFTERCARE_DAYS = 30;
const DAY_MS = 24 * 60 * 60_000;

/**
 * What a message of a kind is about as things stand, or null when it does not apply. The same occasion is the same message:
 * one booking, each version of the times told, each question, each time the car became ready.
 */
export async function occasionOf(
  records: Records,
  shopId: ShopId,
  job: Job,
  kind: MessageKind,
  now: Instant,
): Promise<string | null> {
  const { state, scope, dropOffAt } = job;
  switch (kind) {
    case 'booked':
      return state === 'booked' ? '1' : null;
    case 'reminder':
      return state === 'booked' && dropOffAt !== null && dropOffAt > now ? `drop-off ${dropOffAt}` : null;
    case 'scope': {
      const open = state === 'inShop' && scope?.answer === 'awaited' && scope.answerBy > now;
      return open ? `until ${scope.answerBy}` : null;
    }
    case 'timesChanged': {
      if (state !== 'booked' && state !== 'inShop') return null;
      const told = await records.toldTimes.latest(shopId, job.id);
      return told !== null && told.number > 1 ? `told ${told.number}` : null;
    }
    case 'ready': {
      if (state !== 'inShop') return null;
      const planned = await records.plans.job(shopId, job.id);
      if (planned === null || !isReady(planned.operations, now)) return null;
      const { failures } = readFloor(await records.floorEvents.listByJob(shopId, job.id), now);
      return `ready ${failures.length + 1}`;
    }
    case 'aftercare': {
      if (state !== 'done') return null;
      const events = await records.floorEvents.listByJob(shopId, job.id);
      const left = Math.max(...events.map((event) => event.occurredAt));
      return events.length === 0 || now - left <= AFTERCARE_DAYS * DAY_MS ? '1' : null;
    }
  }
}

/** What is said again on purpose is numbered behind its occasion. */
export function againOccasion(occasion: string, time: number): string {
  return time === 1 ? occasion : `${occasion} again ${time}`;
}

/** The occasion of a message that may have been said again. */
export function baseOccasion(occasion: string): string {
  return occasion.replace(/ again \d+$/, '');
}
