import type { FloorEvent } from '../../trade/model/job.ts';

/** Jobs whose events are remembered before the longest unasked is forgotten. */
const MOST = 2_000;

/** What happened to jobs, as last read: facts are only ever added, so that those read once need not be read again. */
export class EventMemory {
  /** By shop and job; the longest unasked first. */
  readonly #events = new Map<string, readonly FloorEvent[]>();

  of(shopId: string, jobId: string): readonly FloorEvent[] {
    return this.#events.get(`${shopId} ${jobId}`) ?? [];
  }

  /** What was read of a job, once it was written anew. */
  forget(shopId: string, jobId: string): void {
    this.#events.delete(`${shopId} ${jobId}`);
  }

  keep(shopId: string, jobId: string, events: readonly FloorEvent[]): void {
    const key = `${shopId} ${jobId}`;
    this.#events.delete(key);
    this.#events.set(key, events);
    if (this.#events.size > MOST) this.#events.delete(this.#events.keys().next().value!);
  }
}
