import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { openBrowser, type Where } from './screen.ts';

/** A browser for the tests of a file or a group, open from before the first to after the last; ask for it inside a test. */
export function aBrowser(where: Pick<Where, 'chromium'>): () => Browser {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser(where);
  });
  afterAll(() => browser?.close());
  return () => browser;
}
