import { setImmediate } from 'node:timers/promises';
import type { Desk } from './desk.ts';
import { createResidentBooks } from './resident-books.ts';

/** Answers on the calling thread: for tests and small tools. */
export function createInProcessDesk(seed: number, clock: () => number = () => performance.now()): Desk {
  const answer = createResidentBooks(clock);
  return {
    async ask({ sold, ...standing }, question) {
      await setImmediate();
      const reply = answer({ ...standing, question, seed, ...(sold === undefined ? {} : { sold }) });
      return reply.kind === 'notOpen' ? { kind: 'cannotTell' } : reply;
    },
  };
}
