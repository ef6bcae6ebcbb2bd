import { whenQuiet } from '../wire/when-quiet.ts';

const KEPT = 'panelday.letters';

/**
 * The typeface, larger than all else of a page together: on a device that has it at once, else after the figures, which are read in
 * the device's own letters until then.
 */
export async function bringLetters(): Promise<void> {
  if (localStorage.getItem(KEPT) === null) await whenQuiet();
  // Without a connection the device's own letters stay.
  await import('./letters.css').then(
    () => localStorage.setItem(KEPT, 'yes'),
    () => undefined,
  );
}
