import { expect, test } from 'vitest';
import { createReplanner } from '../../../src/shop/planning/replanner.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';

const shop = ShopId.parse('shop');
const quiet = { info() {}, warn() {}, error() {} };

function gate(): { opened: Promise<void>; open: () => void } {
  let open = () => {};
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { opened, open };
}

test('several asks in a row make one plan, with all their reasons', async () => {
  const reasons: string[] = [];
  const replanner = createReplanner({
    replan: async (_, reason) => {
      reasons.push(reason);
    },
    debounceMs: 1,
    log: quiet,
  });
  replanner.ask(shop, 'a car came');
  replanner.ask(shop, 'wash finished');
  await replanner.settled(shop);
  expect(reasons).toEqual(['a car came, wash finished']);
  await replanner.close();
});

test('what is asked while a plan is made makes one more, after it', async () => {
  const reasons: string[] = [];
  let underWay = 0;
  const first = gate();
  const replanner = createReplanner({
    replan: async (_, reason) => {
      expect(++underWay).toBe(1);
      if (reasons.push(reason) === 1) {
        replanner.ask(shop, 'second');
        replanner.ask(shop, 'third');
        first.open();
      }
      underWay--;
    },
    debounceMs: 1,
    log: quiet,
  });
  replanner.ask(shop, 'first');
  await first.opened;
  await replanner.settled(shop);
  expect(reasons).toEqual(['first', 'second, third']);
  await replanner.close();
});

test('a plan that fails is logged, and the next one is made all the same', async () => {
  const errors: string[] = [];
  let plans = 0;
  const replanner = createReplanner({
    replan: async () => {
      if (++plans === 1) throw new Error('no plan');
    },
    debounceMs: 1,
    log: { ...quiet, error: (_, words) => errors.push(words) },
  });
  replanner.ask(shop, 'first');
  await replanner.settled(shop);
  replanner.ask(shop, 'second');
  await replanner.settled(shop);
  expect(plans).toBe(2);
  expect(errors).toHaveLength(1);
  await replanner.close();
});

test('looking for a better plan is given up as soon as something happens', async () => {
  const improving = gate();
  const cancelled: boolean[] = [];
  const replanner = createReplanner({
    replan: async () => {},
    improve: (_, signal) =>
      cancelled.length > 0
        ? Promise.resolve()
        : new Promise<void>((resolve) => {
            signal.addEventListener('abort', () => {
              cancelled.push(true);
              resolve();
            });
            improving.open();
          }),
    debounceMs: 1,
    log: quiet,
  });
  replanner.ask(shop, 'first');
  await improving.opened;
  replanner.ask(shop, 'second');
  await replanner.settled(shop);
  expect(cancelled).toEqual([true]);
  await replanner.close();
});

test('after closing nothing is planned any more', async () => {
  let plans = 0;
  const replanner = createReplanner({
    replan: async () => {
      plans++;
    },
    debounceMs: 1,
    log: quiet,
  });
  replanner.ask(shop, 'too late');
  await replanner.close();
  replanner.ask(shop, 'far too late');
  await replanner.settled(shop);
  expect(plans).toBe(0);
});

test('a better plan than the one just published is looked for without planning anew, once', async () => {
  const said: string[] = [];
  const replanner = createReplanner({
    replan: async (_, reason) => {
      said.push(reason);
    },
    improve: async () => {
      said.push('better');
    },
    debounceMs: 1,
    log: quiet,
  });
  replanner.improve(shop);
  replanner.improve(shop);
  await replanner.settled(shop);
  replanner.ask(shop, 'a car came');
  replanner.improve(shop);
  await replanner.settled(shop);
  await replanner.close();
  expect(said).toEqual(['better', 'a car came', 'better']);
});
