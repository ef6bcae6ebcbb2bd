import type { ShopId } from '../../trade/model/ids.ts';
import type { Log } from '../deps.ts';

/** Plans shops again after changes: debounced, one plan at a time a shop. */
export interface Replanner {
  /** Asks for a plan soon; several asks in a row make one plan. */
  ask(shopId: ShopId, reason: string): void;
  /** Asks for a better plan than the one just published; nothing when one is being looked for or will be. */
  improve(shopId: ShopId): void;
  /** Resolves when nothing is asked for or under way. */
  settled(shopId: ShopId): Promise<void>;
  /** Stops: plans under way are cancelled, timers cleared. */
  close(): Promise<void>;
}

export interface ReplannerOptions {
  /** Makes and publishes the first plan that obeys every rule. */
  readonly replan: (shopId: ShopId, reason: string, signal: AbortSignal) => Promise<unknown>;
  /** Looks for a better plan while nothing else is asked; cancelled as soon as something is. Absent: none is looked for. */
  readonly improve?: (shopId: ShopId, signal: AbortSignal) => Promise<unknown>;
  /** Quiet time after the last ask before planning begins. */
  readonly debounceMs: number;
  readonly log: Log;
}

interface ShopQueue {
  reasons: Set<string>;
  /** Whether a better plan is wanted though no new one was asked for. */
  wantsBetter: boolean;
  timer: NodeJS.Timeout | null;
  running: Promise<void> | null;
  improving: AbortController | null;
  waiting: (() => void)[];
}

function isWanted({ reasons, wantsBetter }: ShopQueue): boolean {
  return reasons.size > 0 || wantsBetter;
}

/** Collects asks shop by shop; a plan under way is finished, and what was asked meanwhile makes one more. */
export function createReplanner(options: ReplannerOptions): Replanner {
  const queues = new Map<ShopId, ShopQueue>();
  const closing = new AbortController();

  const queueOf = (shopId: ShopId): ShopQueue => {
    const known = queues.get(shopId);
    if (known !== undefined) return known;
    const fresh: ShopQueue = {
      reasons: new Set(),
      wantsBetter: false,
      timer: null,
      running: null,
      improving: null,
      waiting: [],
    };
    queues.set(shopId, fresh);
    return fresh;
  };
  const tellWaiting = (queue: ShopQueue) => {
    if (queue.running !== null || queue.timer !== null || isWanted(queue)) return;
    for (const wake of queue.waiting.splice(0)) wake();
  };
  const schedule = (shopId: ShopId, queue: ShopQueue) => {
    if (closing.signal.aborted || queue.running !== null) return;
    if (queue.timer !== null) clearTimeout(queue.timer);
    queue.timer = setTimeout(() => {
      queue.timer = null;
      queue.running = run(shopId, queue).finally(() => {
        queue.running = null;
        if (isWanted(queue)) schedule(shopId, queue);
        else tellWaiting(queue);
      });
    }, options.debounceMs);
  };
  const attempt = async (shopId: ShopId, what: string, work: () => Promise<unknown>) => {
    try {
      await work();
    } catch (err) {
      if (!closing.signal.aborted) options.log.error({ err, shopId }, what);
    }
  };
  const run = async (shopId: ShopId, queue: ShopQueue) => {
    const reason = [...queue.reasons].join(', ').slice(0, 200);
    queue.reasons.clear();
    if (reason !== '') {
      await attempt(shopId, 'planning again failed; the plan that stood stays', () =>
        options.replan(shopId, reason, closing.signal),
      );
    }
    // Whoever asked meanwhile for a better plan gets the one that is looked for now.
    queue.wantsBetter = false;
    if (options.improve === undefined || queue.reasons.size > 0 || closing.signal.aborted) return;
    const improving = new AbortController();
    queue.improving = improving;
    await attempt(shopId, 'looking for a better plan failed; the plan that stood stays', () =>
      options.improve!(shopId, AbortSignal.any([improving.signal, closing.signal])),
    );
    queue.improving = null;
  };

  return {
    ask(shopId, reason) {
      if (closing.signal.aborted) return;
      const queue = queueOf(shopId);
      queue.reasons.add(reason);
      queue.improving?.abort();
      schedule(shopId, queue);
    },
    improve(shopId) {
      if (closing.signal.aborted || options.improve === undefined) return;
      const queue = queueOf(shopId);
      if (queue.running !== null || queue.timer !== null) return;
      queue.wantsBetter = true;
      schedule(shopId, queue);
    },
    settled(shopId) {
      const queue = queueOf(shopId);
      return new Promise((resolve) => {
        queue.waiting.push(resolve);
        tellWaiting(queue);
      });
    },
    async close() {
      closing.abort();
      for (const queue of queues.values()) {
        if (queue.timer !== null) clearTimeout(queue.timer);
        queue.timer = null;
        queue.reasons.clear();
        queue.wantsBetter = false;
      }
      await Promise.all([...queues.values()].map((queue) => queue.running));
      for (const queue of queues.values()) tellWaiting(queue);
    },
  };
}
