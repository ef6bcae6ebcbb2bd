import { useState } from 'preact/hooks';
import type { PanelName } from '../../api/replies.ts';
import { CarView, panelNames } from '../parts/car-view.tsx';
import { floorWords } from '../words/floor.ts';

const keyOf = (jobId: string, operation: string) => `panelday.panels ${jobId} ${operation}`;

/** Panels ticked off on this device for an operation. */
export function tickedPanels(jobId: string, operation: string): readonly PanelName[] {
  return JSON.parse(localStorage.getItem(keyOf(jobId, operation)) ?? '[]');
}

/** Panel after panel is ticked off; what is done survives a reload, and a hand-over tells it to the next person. */
export function PanelTicks({ jobId, operation }: { jobId: string; operation: string }) {
  const [ticked, setTicked] = useState(tickedPanels(jobId, operation));
  const toggle = (panel: PanelName) => {
    const after = ticked.includes(panel) ? ticked.filter((each) => each !== panel) : [...ticked, panel];
    localStorage.setItem(keyOf(jobId, operation), JSON.stringify(after));
    setTicked(after);
  };
  return (
    <CarView caption={floorWords.ticked(ticked.length, panelNames.length)} on={new Set(ticked)} onPanel={toggle} />
  );
}
