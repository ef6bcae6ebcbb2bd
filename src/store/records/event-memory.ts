import { LRUCache } from 'lru-cache';
import type { FloorEvent } from '../../trade/model/job.ts';

/** Jobs whose events are remembered before the longest unasked is forgotten. */
const MOST = 2_000;

/** What happened to jobs, as last read: facts are only ever added, so that those read once need not be read again. */
export class EventMemory {
  /** By shop and job. */
  readonly #events = new LRUCache<string, readonly FloorEvent[]>({ max: MOST });

  of(shopId: string, jobId: string): readonly FloorEvent[] {
    return this.#events.get(`${shopId} ${jobId}`) ?? [];
  }

  /** What was read of a job, once it was written anew. */
  forget(shopId: string, jobId: string): void {
    this.#events.delete(`${shopId} ${jobId}`);
  }

  keep(shopId: string, jobId: string, events: readonly FloorEvent[]): void {
    this.#events.set(`${shopId} ${jobId}`, events);
  }
}
