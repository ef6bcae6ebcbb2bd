import { mkdir, writeFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { findChromium, startDemoServer } from './demo-server.ts';
import { openBrowser, openPage, type Where } from './screen.ts';

/**
 * Makes the pictures of the screens: phone, tablet and desktop, light and dark, from a fresh demo shop; WebP, to be small. All of
 * them, or those that are named: `npm run screens -- owner floor`.
 */
const into = 'tests/web/screens/';
const sizes = { phone: [390, 844], tablet: [1024, 768], desktop: [1440, 900] } as const;

/** Of WebP: letters stay sharp, and the largest picture stays under 100 KB. */
const QUALITY = 72;

type Size = keyof typeof sizes;

interface Picture {
  readonly name: string;
  readonly path: string;
  readonly size: Size;
  readonly dark?: boolean;
  readonly me?: string;
  readonly act?: (page: Page) => Promise<unknown>;
}

const pictures: readonly Picture[] = [
  { name: 'desk-day', path: '/desk.html', size: 'desktop' },
  { name: 'desk-day-dark', path: '/desk.html', size: 'desktop', dark: true },
  { name: 'desk-day-tablet', path: '/desk.html', size: 'tablet' },
  { name: 'desk-day-phone', path: '/desk.html', size: 'phone' },
  {
    name: 'desk-week',
    path: '/desk.html',
    size: 'desktop',
    act: async (page) => {
      await page.getByRole('button', { name: 'Week', exact: true }).click();
      await page.locator('.weeksheet .stay').first().click();
      await page.getByRole('heading', { name: 'What is done, in order' }).waitFor();
    },
  },
  {
    name: 'desk-booking',
    path: '/desk.html',
    size: 'desktop',
    act: async (page) => {
      await page.getByRole('button', { name: 'Book a car' }).click();
      await page.getByLabel('Name', { exact: true }).fill('Rowan (invented)');
      await page.getByLabel('Service').selectOption({ label: 'One-layer ceramic' });
      await page.getByRole('button', { name: 'Find times' }).click();
      await page.locator('.choices .told').first().waitFor();
    },
  },
  { name: 'floor', path: '/floor.html', size: 'tablet', me: 'birch' },
  { name: 'floor-dark', path: '/floor.html', size: 'tablet', me: 'birch', dark: true },
  { name: 'floor-phone', path: '/floor.html', size: 'phone', me: 'cedar' },
  {
    name: 'floor-window',
    path: '/floor.html',
    size: 'tablet',
    me: 'cedar',
    act: (page) =>
      page
        .locator('.dayline button', { has: page.locator('.mark.soon') })
        .first()
        .click(),
  },
  { name: 'owner', path: '/owner.html', size: 'desktop' },
  { name: 'owner-dark', path: '/owner.html', size: 'tablet', dark: true },
  { name: 'owner-phone', path: '/owner.html', size: 'phone' },
  {
    name: 'owner-what-if',
    path: '/owner.html',
    size: 'desktop',
    act: async (page) => {
      await page.getByLabel('Cars a week').selectOption('125');
      await page.getByRole('button', { name: 'Plan the months' }).click();
      await page.getByRole('heading', { name: 'With one thing more' }).waitFor({ timeout: 180_000 });
      await page.evaluate('document.querySelector("#what-if").scrollIntoView()');
    },
  },
  {
    name: 'owner-estimates',
    path: '/owner.html',
    size: 'desktop',
    act: async (page) => {
      await page.locator('#estimates .rangebar').first().waitFor();
      await page.evaluate('document.querySelector("#revenue").scrollIntoView()');
    },
  },
];

/** The typeface comes after the figures. */
const lettersAreThere = () => [...document.fonts].some(({ status }) => status === 'loaded');

async function take(browser: Browser, where: Where, picture: Picture): Promise<void> {
  const { name, path, size, dark = false, me = '', act } = picture;
  const [width, height] = sizes[size];
  const page = await openPage(browser, where, path, { width, height, dark, me });
  await page.locator('.sheet .stay, .task, .sayings').first().waitFor();
  await act?.(page);
  await page.waitForLoadState('load');
  await page.waitForFunction(lettersAreThere);
  await page.getByText('Reading…').first().waitFor({ state: 'detached' });
  await page.waitForTimeout(700);
  const session = await page.context().newCDPSession(page);
  const shot = await session.send('Page.captureScreenshot', { format: 'webp', quality: QUALITY });
  await writeFile(`${into}${name}.webp`, Buffer.from(shot.data, 'base64'));
  await page.context().close();
}

const chromium = findChromium();
if (chromium === null) throw new Error('no Chromium: install the package "chromium" (apt-get install chromium)');
await mkdir(into, { recursive: true });
const server = await startDemoServer();
const browser = await openBrowser({ ...server, chromium });
try {
  const named = process.argv.slice(2);
  const wanted = pictures.filter(({ name }) => named.length === 0 || named.includes(name));
  for (const picture of wanted) await take(browser, { ...server, chromium }, picture);
} finally {
  await browser.close();
  await server.stop();
}
