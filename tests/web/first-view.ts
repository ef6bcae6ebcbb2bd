import type { Browser } from 'playwright-core';
import { findChromium, startDemoServer } from './demo-server.ts';
import { openBrowser, openContext, type Where } from './screen.ts';

/**
 * Measures how long a tablet of the middle range waits for the first view that can be used: processor four times slower,
 * 1.6 Mbit/s, 150 ms there and back, nothing kept on the device. Prints the median of some visits. `npm run first-view`.
 */
const VISITS = 5;
const SLOWER = 4;
const LINE = { offline: false, latency: 150, downloadThroughput: 1_600_000 / 8, uploadThroughput: 750_000 / 8 };

const views = [
  { path: '/floor.html', me: 'birch', usable: '.task .acts button' },
  { path: '/desk.html', me: '', usable: '.sheet .stay' },
  { path: '/owner.html', me: '', usable: '.sayings' },
] as const;

async function wait(browser: Browser, where: Where, view: (typeof views)[number]): Promise<number> {
  const context = await openContext(browser, where, { width: 1024, height: 768, touch: true, me: view.me });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Network.enable');
  await session.send('Network.emulateNetworkConditions', LINE);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  // The page's own stopwatch: the demo's shifted clock does not move it.
  await page.addInitScript(`new MutationObserver((_, watching) => {
    if (!document.querySelector(${JSON.stringify(view.usable)})) return;
    watching.disconnect();
    requestAnimationFrame(() => { globalThis.usableAfter = performance.now(); });
  }).observe(document, { childList: true, subtree: true });`);
  await page.goto(view.path, { waitUntil: 'commit' });
  await page.waitForFunction(() => Reflect.get(globalThis, 'usableAfter') !== undefined);
  const took = Number(await page.evaluate('globalThis.usableAfter'));
  await context.close();
  return took;
}

const chromium = findChromium();
if (chromium === null) throw new Error('no Chromium: install the package "chromium" (apt-get install chromium)');
const server = await startDemoServer();
const where = { ...server, chromium };
const browser = await openBrowser(where);
try {
  for (const view of views) {
    const took: number[] = [];
    for (let visit = 0; visit < VISITS; visit++) took.push(await wait(browser, where, view));
    took.sort((a, b) => a - b);
    const [least, median, most] = [took[0], took[VISITS >> 1], took.at(-1)].map((each) => Math.round(each ?? 0));
    process.stdout.write(`${view.path} ${median} ms (${least} to ${most})\n`);
  }
} finally {
  await browser.close();
  await server.stop();
}
