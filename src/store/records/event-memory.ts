import { LRUCache } from 'lru-cache';
import type { FloorEvent } from '../../trade/model/job.ts';

/** Jobs whose events are remembered before the longest unasked is forgotten. */
const MOST = 2_000;

/** What happened to a job, as far as it was read. */
export interface KnownEvents {
  /** The number of the last event read; 0: none was. */
  readonly last: number;
  /** Notes are left out. */
  readonly events: readonly FloorEvent[];
}

const NONE: KnownEvents = { last: 0, events: [] };

/** What happened to jobs, as last read: facts are only ever added, so that those read once need not be read again. */
export class EventMemory {
  /** By shop and job. */
  readonly #known = new LRUCache<string, KnownEvents>({ max: MOST });

  of(shopId: string, jobId: string): KnownEvents {
    return this.#known.get(`${shopId} ${jobId}`) ?? NONE;
  }

  /** What was read of a job, once it was written anew. */
  forget(shopId: string, jobId: string): void {
    this.#known.delete(`${shopId} ${jobId}`);
  }

  keep(shopId: string, jobId: string, known: KnownEvents): void {
    this.#known.set(`${shopId} ${jobId}`, known);
  }
}

/** With the event that comes next. */
export function withOneMore({ events }: KnownEvents, event: FloorEvent): KnownEvents {
  return { last: event.sequence, events: event.fact.kind === 'noted' ? events : [...events, event] };
}
