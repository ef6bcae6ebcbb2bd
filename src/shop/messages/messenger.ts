import type { CustomerDeps } from '../customer/deps.ts';
import { remind } from './remind.ts';
import { sendDue } from './send-due.ts';

export interface Messenger {
  /** Goes round soon, since something was queued. */
  wake(): void;
  /** Ends after the attempt under way, or after a grace: what is then in hand will be told to the desk as unknown. */
  stop(): Promise<void>;
}

/** A mail server that hangs does not keep this one from stopping in order. */
const STOP_GRACE_MS = 4_000;

/** Reminds and sends in every shop, again and again, and at once when woken. Several servers may each have one. */
export function startMessenger(deps: CustomerDeps, everyMs: number): Messenger {
  let stopped = false;
  let woken = false;
  let timer: NodeJS.Timeout | undefined;
  let round: Promise<void> | null = null;
  const go = () => {
    clearTimeout(timer);
    woken = false;
    round = goRound(deps, () => stopped).then(() => {
      round = null;
      if (!stopped) timer = setTimeout(go, woken ? 0 : everyMs);
    });
  };
  timer = setTimeout(go, everyMs);
  return {
    wake: () => {
      if (stopped) return;
      woken = true;
      if (round === null) {
        clearTimeout(timer);
        timer = setTimeout(go, 0);
      }
    },
    stop: async () => {
      stopped = true;
      clearTimeout(timer);
      let grace: NodeJS.Timeout | undefined;
      const over = new Promise<void>((resolve) => {
        grace = setTimeout(resolve, STOP_GRACE_MS);
      });
      await Promise.race([round, over]);
      clearTimeout(grace);
    },
  };
}

async function goRound(deps: CustomerDeps, stopped: () => boolean): Promise<void> {
  try {
    for (const { value: shop } of await deps.store.shops.list()) {
      if (stopped()) return;
      await remind(deps, { shopId: shop.id });
      await sendDue(deps, { shopId: shop.id });
    }
  } catch (err) {
    deps.log.error({ err }, 'messages could not be sent and are tried again');
  }
}
