import { whenDrawn } from '../wire/first-draw.ts';
import { whenQuiet } from '../wire/when-quiet.ts';

const KEPT = 'panelday.letters';
/** An answer that takes longer is thought about, and the line is free meanwhile. */
const PATIENCE_MS = 2_000;

/**
 * The typeface, larger than all else of a page together: on a device that has it at once, else after the figures, which are read in
 * the device's own letters until then.
 */
export async function bringLetters(): Promise<void> {
  if (localStorage.getItem(KEPT) === null) {
    await whenDrawn();
    await Promise.race([whenQuiet(), new Promise((resolve) => setTimeout(resolve, PATIENCE_MS))]);
  }
  // Without a connection the device's own letters stay.
  await import('./letters.css').then(
    () => localStorage.setItem(KEPT, 'yes'),
    () => undefined,
  );
}
