import { afterAll, afterEach, beforeAll, beforeEach, inject } from 'vitest';
import { DEMO_NOW, type DemoServer, startDemoServer } from './demo-server.ts';
import type { Where } from './screen.ts';

/** A minute after the demo was loaded, so that nothing in it lies ahead of the clock. */
const BEGINS = DEMO_NOW + 60_000;

/**
 * What is planned stands: hardly anybody looks for a better plan, which a test would find itself in the middle of. Few questions are
 * asked of each server: warming up would take longer than it saves.
 */
const SETTINGS = { PLAN_BUDGET_MS: '50', WARM_UP: 'off' };

/**
 * A server of its own for each test, or for each file of tests that change nothing the others see, with the demo shop as it was just
 * after it was loaded; null where there is no browser. What it holds changes with each start.
 */
export function demoShop(of: 'each test' | 'each file'): Where {
  const web = inject('web');
  // Without a browser the tests are skipped, and nothing reads it.
  if (web === null) return null as unknown as Where;
  const where = { base: '', offsetMs: 0, cookie: '', chromium: web.chromium };
  let server: DemoServer | null = null;
  const start = async () => {
    server = await startDemoServer({ now: BEGINS, from: web.folder, settings: SETTINGS });
    Object.assign(where, { base: server.base, offsetMs: server.offsetMs, cookie: server.cookie });
  };
  const stop = async () => {
    await server?.stop();
    server = null;
  };
  if (of === 'each test') {
    beforeEach(start);
    afterEach(stop);
  } else {
    beforeAll(start);
    afterAll(stop);
  }
  return where;
}
