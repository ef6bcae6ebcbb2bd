import type { PanelName } from './vehicle.ts';

/** A panel as people call it: `leftFrontWing` is the left front wing. */
export function panelInWords(panel: PanelName): string {
  return panel.replace(/[A-Z]/g, asNextWord);
}

function asNextWord(letter: string): string {
  return ` ${letter.toLowerCase()}`;
}
