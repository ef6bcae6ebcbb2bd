import { describe, expect, test } from 'vitest';
import { planQueued } from '../../../src/shop/planning/plan-queued.ts';
import type { PlanAsk, PlanningQueue, Taken, Wanted } from '../../../src/store/store.ts';
import type { ShopId } from '../../../src/trade/model/ids.ts';

const log = { info() {}, warn() {}, error() {} };
const ask = (shop: string): PlanAsk => ({
  shopId: shop as ShopId,
  reason: 'a fact',
  who: 'account:desk',
  requestId: 'r-1',
});

/** A queue in memory that tells what became of what was taken. */
function aQueue() {
  const waiting: { wanted: Wanted; ask: PlanAsk }[] = [];
  const told: string[] = [];
  const elsewhere = new Set<string>();
  let empty = () => {};
  const queue: PlanningQueue = {
    async ask(wanted, asked) {
      told.push(`asked ${wanted} ${asked.shopId}`);
      waiting.push({ wanted, ask: asked });
    },
    async take() {
      const next = waiting.shift();
      if (next === undefined) {
        empty();
        return null;
      }
      const { wanted, ask: asked } = next;
      return {
        ...asked,
        wanted,
        done: async () => void told.push(`done ${wanted} ${asked.shopId}`),
        failed: async () => void told.push(`failed ${wanted} ${asked.shopId}`),
      };
    },
    waiting: async () => waiting.length,
    alone: async (name, work) => (elsewhere.delete(name) ? null : work()),
    close: async () => {},
  };
  return { queue, waiting, told, elsewhere, untilEmpty: () => new Promise<void>((resolve) => (empty = resolve)) };
}

function terms(queue: PlanningQueue, told: string[]) {
  return {
    queue,
    replan: async (shopId: ShopId) => void told.push(`planned ${shopId}`),
    improve: async (shopId: ShopId) => void told.push(`bettered ${shopId}`),
    inTheNameOf: <T>(_: Taken, work: () => Promise<T>) => work(),
    atOnce: 1,
    idleMs: 1,
    log,
  };
}

describe('planning by a queue', () => {
  test('a plan is followed by the search for a better one, in the name of the same request', async () => {
    const { queue, waiting, told, untilEmpty } = aQueue();
    waiting.push({ wanted: 'plan', ask: ask('one') });
    const names: string[] = [];
    const done = untilEmpty();
    const work = planQueued({
      ...terms(queue, told),
      inTheNameOf: (taken, act) => {
        names.push(`${taken.who} ${taken.requestId}`);
        return act();
      },
    });
    await done;
    await work.stop(1_000);
    expect(told).toEqual(['planned one', 'asked better one', 'done plan one', 'bettered one', 'done better one']);
    expect(names).toEqual(['account:desk r-1', 'account:desk r-1']);
  });

  test('a shop that another process is planning is asked for again, and planned after it', async () => {
    const { queue, waiting, told, elsewhere, untilEmpty } = aQueue();
    elsewhere.add('one');
    waiting.push({ wanted: 'plan', ask: ask('one') });
    const done = untilEmpty();
    const work = planQueued(terms(queue, told));
    await done;
    await work.stop(1_000);
    expect(told.slice(0, 3)).toEqual(['asked plan one', 'done plan one', 'planned one']);
  });

  test('what fails is told so, and the others are planned', async () => {
    const { queue, waiting, told, untilEmpty } = aQueue();
    waiting.push({ wanted: 'plan', ask: ask('bad') }, { wanted: 'plan', ask: ask('good') });
    const done = untilEmpty();
    const replan = async (shopId: ShopId) => {
      if (shopId === 'bad') throw new Error('its worker died');
      told.push(`planned ${shopId}`);
    };
    const work = planQueued({ ...terms(queue, told), replan });
    await done;
    await work.stop(1_000);
    expect(told).toContain('failed plan bad');
    expect(told).toContain('planned good');
  });

  test('a stop hands back what is not done in time, and takes nothing more', async () => {
    const { queue, waiting, told } = aQueue();
    waiting.push({ wanted: 'plan', ask: ask('long') }, { wanted: 'plan', ask: ask('next') });
    const begun = later();
    const replan = (_: ShopId, __: string, signal: AbortSignal) =>
      new Promise((_resolve, reject) => {
        signal.addEventListener('abort', () => reject(new Error('cancelled')));
        begun.resolve();
      });
    const work = planQueued({ ...terms(queue, told), replan });
    await begun.promise;
    await work.stop(0);
    expect(told).toEqual(['asked plan long', 'done plan long']);
    expect(waiting.map(({ ask: { shopId } }) => shopId)).toEqual(['next', 'long']);
  });
});

function later() {
  let resolve = () => {};
  const promise = new Promise<void>((done) => (resolve = done));
  return { promise, resolve };
}
