import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

/** How Chromium starts where there is no desktop and no sandbox. */
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Longest that one step may take before the test says what it waited for. */
const STEP_MS = 25_000;

export interface Where {
  readonly base: string;
  readonly offsetMs: number;
  readonly chromium: string;
  /** Of somebody signed in; the browsers bring it. */
  readonly cookie: string;
}

export interface Look {
  readonly width: number;
  readonly height: number;
  readonly dark: boolean;
  /** Who is signed in on the floor. */
  readonly me: string;
  readonly touch: boolean;
  /** Whether pages may keep themselves on the device; what a test answers in the server's place would not reach such a page. */
  readonly installed: boolean;
  /** Whether somebody has signed in. */
  readonly signedIn: boolean;
}

export function openBrowser(where: Pick<Where, 'chromium'>): Promise<Browser> {
  return chromium.launch({ executablePath: where.chromium, args: FLAGS, headless: true });
}

/** A browser of somebody: own storage, the demo's clock, the demo's hour. */
export async function openContext(browser: Browser, where: Where, look: Partial<Look> = {}): Promise<BrowserContext> {
  const { width = 1440, height = 900, dark = false, me = '', touch = false, installed = false, signedIn = true } = look;
  const context = await browser.newContext({
    baseURL: where.base,
    viewport: { width, height },
    colorScheme: dark ? 'dark' : 'light',
    hasTouch: touch,
    locale: 'en-GB',
    timezoneId: 'Europe/Berlin',
    serviceWorkers: installed ? 'allow' : 'block',
  });
  context.setDefaultTimeout(STEP_MS);
  const [name = '', value = ''] = where.cookie.split('=');
  if (signedIn) await context.addCookies([{ name, value, url: where.base }]);
  const clock = await readFile('tests/web/shifted-clock.mjs', 'utf8');
  await context.addInitScript(`globalThis.PANELDAY_CLOCK_OFFSET_MS ??= ${where.offsetMs};\n${clock}`);
  if (me !== '') await context.addInitScript(`localStorage.setItem('panelday.technician', ${JSON.stringify(me)})`);
  return context;
}

export async function openPage(browser: Browser, where: Where, path: string, look: Partial<Look> = {}): Promise<Page> {
  const page = await (await openContext(browser, where, look)).newPage();
  await page.goto(path);
  return page;
}

export async function closePage(page: Page): Promise<void> {
  await page.unrouteAll({ behavior: 'ignoreErrors' });
  await page.context().close();
}

const axeFile = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** What axe-core finds against the page as it stands, one line each: WCAG 2.2 A and AA and its best practices. */
export async function faultsOf(page: Page): Promise<string[]> {
  const there = await page.evaluate('typeof axe !== "undefined"');
  if (!there) await page.evaluate(await readFile(axeFile, 'utf8'));
  const found = (await page.evaluate('axe.run(document, { resultTypes: ["violations"] })')) as AxeResults;
  return found.violations.map(
    (each) =>
      `${each.id}: ${each.nodes.map((node) => `${node.target.join(' ')} ${node.any[0]?.message ?? ''}`).join(' | ')}`,
  );
}

/** The same in light and in dark. */
export async function faultsInBothLooks(page: Page): Promise<string[]> {
  const faults: string[] = [];
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    faults.push(...(await faultsOf(page)).map((each) => `${colorScheme}: ${each}`));
  }
  await page.emulateMedia({ colorScheme: 'light' });
  return faults;
}
