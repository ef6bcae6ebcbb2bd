import type { Page } from 'playwright-core';

/** What has the focus, as it is called: its label, its name, else its text. */
export async function focusedName(page: Page): Promise<string> {
  const name = await page.evaluate(`{
    const focused = document.activeElement;
    focused.labels?.[0]?.textContent ?? focused.ariaLabel ?? focused.getAttribute('aria-label') ?? focused.textContent;
  }`);
  return String(name).trim();
}

/** Goes on by Tab until something of that name has the focus. */
export async function tabTo(page: Page, name: string): Promise<void> {
  for (let presses = 0; presses < 80; presses++) {
    await page.keyboard.press('Tab');
    if ((await focusedName(page)) === name) return;
  }
  throw new Error(`Tab never came to "${name}"`);
}
