import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { chromium } from 'playwright-core';
import { findChromium } from './demo-server.ts';

/** Makes the icons of the installed app from the mark: plain ones, and one whose edges a device may cut off. */
const into = 'src/web/public/icons/';
const icons = [
  { name: 'mark-192', size: 192, margin: 0 },
  { name: 'mark-512', size: 512, margin: 0 },
  // The inner four fifths are safe from any mask (W3C, Web Application Manifest, "Icon masks and safe zone").
  { name: 'mark-mask-512', size: 512, margin: 0.14 },
] as const;

const executablePath = findChromium();
if (executablePath === null) throw new Error('no Chromium: install the package "chromium" (apt-get install chromium)');
const mark = await readFile('src/web/public/mark.svg', 'utf8');
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
try {
  await mkdir(into, { recursive: true });
  for (const { name, size, margin } of icons) {
    const page = await browser.newPage({ viewport: { width: size, height: size } });
    const inner = Math.round(size * (1 - 2 * margin));
    await page.setContent(
      `<style>html,body{margin:0;background:${margin > 0 ? '#14323f' : 'transparent'}}
        body{display:grid;place-items:center;height:100vh}svg{width:${inner}px;height:${inner}px}</style>${mark}`,
    );
    await writeFile(`${into}${name}.png`, await page.screenshot({ omitBackground: true }));
    await page.close();
  }
} finally {
  await browser.close();
}
