import { describe, expect, test } from 'vitest';
import { aBrowser } from './browser.ts';
import { demoShop } from './demo-shop.ts';
import { closePage, faultsInBothLooks, openContext, openPage } from './screen.ts';

const where = demoShop('each file');

describe.skipIf(where === null)('signing in', () => {
  const browser = aBrowser(where);

  test('nobody gets to a screen, and whoever signs in is led back to it', async () => {
    const page = await openPage(browser(), where, '/desk.html?job=none', { signedIn: false });
    await page.waitForURL('**/sign-in.html?to=*');
    await page.getByRole('button', { name: /As the desk/ }).waitFor();
    expect(await faultsInBothLooks(page)).toEqual([]);
    await page.getByLabel('Sign-in name', { exact: true }).first().fill('nobody-of-this-name');
    await page.getByLabel('Password', { exact: true }).fill('not the password of anybody');
    await page.getByRole('button', { name: 'Sign in', exact: true }).click();
    await page.getByText('The name or the password is wrong').waitFor();
    await page.getByRole('button', { name: /As the desk/ }).click();
    await page.waitForURL('**/desk.html?job=none');
    await page.getByText('Signed in as Demo desk (invented)').waitFor();
    // The desk neither reads the owner's figures nor admits people.
    const screens = page.getByRole('navigation').getByRole('link');
    expect(await screens.allTextContents()).toEqual(['Desk', 'Floor', 'API']);
    await closePage(page);
  });

  test('a person is admitted, the device becomes a tablet, and their PIN opens their own day on it', async () => {
    const context = await openContext(browser(), where);
    const page = await context.newPage();
    await page.goto('/people.html');
    await page.getByLabel('Name', { exact: true }).fill('Dee Invented');
    await page.getByLabel('Sign-in name').fill('dee-invented');
    await page.getByLabel('Person in the plan').selectOption({ label: 'Birch' });
    await page.getByLabel(/^PIN/).fill('1234');
    await page.getByRole('button', { name: 'Admit', exact: true }).click();
    await page.getByText('A PIN is not a run of digits.').first().waitFor();
    await page.getByLabel(/^PIN/).fill('2580');
    await page.getByRole('button', { name: 'Admit', exact: true }).click();
    await page.getByRole('rowheader', { name: 'Dee Invented' }).waitFor();
    await page.getByLabel('Name of this tablet').fill('Tablet at bay 1 (invented)');
    await page.getByRole('button', { name: /Make this device/ }).click();
    await page.getByRole('button', { name: /^Withdraw/ }).waitFor();
    expect(await faultsInBothLooks(page)).toEqual([]);
    // Somebody looks at another's day before; the tablet does not go on with it.
    await page.goto('/floor.html');
    await page.getByRole('button', { name: 'Larch' }).click();
    await page.getByRole('heading', { name: 'Larch' }).waitFor();
    // The session of the other tests goes on: only this browser forgets it.
    await context.clearCookies({ name: 'panelday-session' });
    await page.goto('/floor.html');
    await page.getByRole('button', { name: 'Dee Invented' }).click();
    await page.getByRole('textbox', { name: 'PIN of Dee Invented' }).fill('2580');
    await page.keyboard.press('Enter');
    await page.waitForURL('**/floor.html');
    await page.getByText('Signed in as Dee Invented').waitFor();
    await page.getByRole('heading', { name: 'Birch' }).waitFor();
    await page.getByRole('button', { name: 'Somebody else' }).click();
    await page.getByRole('button', { name: 'Cedar' }).click();
    await page.reload();
    await page.getByRole('heading', { name: 'Cedar' }).waitFor();
    expect(await page.getByRole('navigation').getByRole('link').allTextContents()).toEqual(['Floor', 'API']);
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.waitForURL('**/sign-in.html');
    await closePage(page);
  });
});
