import { setImmediate } from 'node:timers/promises';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Desk, StandingBook } from './desk.ts';
import { alone } from './patience.ts';
import { createResidentBooks } from './resident-books.ts';

/** Answers on the calling thread: for tests and small tools. */
export function createInProcessDesk(seed: number, clock: () => number = () => performance.now()): Desk {
  const answer = createResidentBooks(alone(clock));
  const open = new Map<ShopId, StandingBook>();
  return {
    async ask(standing, question, which = 'this') {
      await setImmediate();
      const reply = answer({ ...standing, which, question, seed });
      if (reply.kind === 'notOpen') return { kind: 'cannotTell' };
      if (which === 'this' || !open.has(standing.shopId)) open.set(standing.shopId, standing);
      return reply;
    },
    openNow: (shopId) => open.get(shopId) ?? null,
  };
}
