import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { CustomerDeps } from '../../../src/shop/customer/deps.ts';
import { linkTokens } from '../../../src/shop/customer/link-tokens.ts';
import { startMessenger } from '../../../src/shop/messages/messenger.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

/** Rounds begun; `hang` leaves the next one unfinished. */
function rounds(): { deps: CustomerDeps; begun: number; hang: boolean; faults: number } {
  const seen = { begun: 0, hang: false, faults: 0 } as ReturnType<typeof rounds>;
  seen.deps = {
    store: {
      shops: {
        list: () => {
          seen.begun += 1;
          if (seen.faults > 0) {
            seen.faults -= 1;
            return Promise.reject(new Error('the database is away'));
          }
          return seen.hang ? new Promise(() => {}) : Promise.resolve([]);
        },
      },
    } as never,
    tokens: linkTokens(''),
    publicUrl: () => 'https://wash.invalid',
    mailer: null,
    clock: () => 0 as Instant,
    newId: () => 'id',
    log: { info() {}, warn() {}, error() {} },
  };
  return seen;
}

describe('whoever sends messages', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  test('comes round again and again, and at once when woken', async () => {
    const seen = rounds();
    const messenger = startMessenger(seen.deps, 20_000);
    await vi.advanceTimersByTimeAsync(45_000);
    expect(seen.begun).toBe(2);
    messenger.wake();
    await vi.advanceTimersByTimeAsync(1);
    expect(seen.begun).toBe(3);
    await messenger.stop();
    messenger.wake();
    await vi.advanceTimersByTimeAsync(100_000);
    expect(seen.begun).toBe(3);
  });

  test('goes on after a round that failed', async () => {
    const seen = rounds();
    seen.faults = 1;
    const messenger = startMessenger(seen.deps, 1_000);
    await vi.advanceTimersByTimeAsync(2_500);
    expect(seen.begun).toBe(2);
    await messenger.stop();
  });

  test('stops within its grace, though a mail server hangs', async () => {
    const seen = rounds();
    seen.hang = true;
    const messenger = startMessenger(seen.deps, 1_000);
    await vi.advanceTimersByTimeAsync(1_500);
    let stopped = false;
    const stopping = messenger.stop().then(() => {
      stopped = true;
    });
    await vi.advanceTimersByTimeAsync(3_900);
    expect(stopped).toBe(false);
    await vi.advanceTimersByTimeAsync(200);
    await stopping;
    expect(stopped).toBe(true);
  });
});
