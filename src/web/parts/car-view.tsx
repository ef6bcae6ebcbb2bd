import type { PanelName } from '../../api/replies.ts';
import { words } from '../words.ts';

/**
 * Outlines of the panels in a field of 280 by 386: the car seen from above with the front on top, its sides folded out so that
 * each panel is wide enough for a glove. Left is the car's left.
 */
const leftSide: Partial<Record<PanelName, string>> = {
  leftFrontWing: 'M84 42V122H36V92q2-44 48-50z',
  leftFrontDoor: 'M36 128H84l2 72H36z',
  leftRearDoor: 'M36 206H86l-2 72H36z',
  leftRearWing: 'M36 284H84v66q-38-4-46-28-2-18-2-38z',
  leftSill: 'M5 134q0-6 6-6h19v150H11q-6 0-6-6z',
};
const middle: Partial<Record<PanelName, string>> = {
  frontBumper: 'M91 36q4-28 49-30 45 2 49 30-49-10-98 0z',
  bonnet: 'M91 43q49-10 98 0l-6 79q-43-9-86 0z',
  roof: 'M104 166q36-7 72 0l2 84q-38 7-76 0z',
  bootLid: 'M97 292q43 8 86 0l6 50q-49 9-98 0z',
  rearBumper: 'M91 349q49 9 98 0-4 29-49 31-45-2-49-31z',
};
const centres: Record<PanelName, readonly [number, number]> = {
  frontBumper: [140, 21],
  bonnet: [140, 82],
  roof: [140, 208],
  bootLid: [140, 320],
  rearBumper: [140, 366],
  leftFrontWing: [62, 92],
  leftFrontDoor: [60, 164],
  leftRearDoor: [60, 242],
  leftRearWing: [62, 314],
  leftSill: [17, 203],
  rightFrontWing: [218, 92],
  rightFrontDoor: [220, 164],
  rightRearDoor: [220, 242],
  rightRearWing: [218, 314],
  rightSill: [263, 203],
};
const wheels = [
  [22, 64],
  [246, 64],
  [22, 290],
  [246, 290],
] as const;

export const panelNames = Object.keys(centres) as readonly PanelName[];

interface CarViewProps {
  readonly caption: string;
  /** Panels ticked off, or the one chosen. */
  readonly on: ReadonlySet<PanelName>;
  readonly onPanel: (panel: PanelName) => void;
  /** A short text on a panel, such as its grade. */
  readonly marks?: Partial<Record<PanelName, string>>;
  readonly role?: 'checkbox' | 'button';
}

/** The car's panels from above, to tick off one by one with a glove, a finger or the keyboard. */
export function CarView({ caption, on, onPanel, marks = {}, role = 'checkbox' }: CarViewProps) {
  return (
    <figure class="carview">
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset cannot stand in a drawing */}
      <svg viewBox="0 0 280 386" role="group" aria-label={caption}>
        <defs>
          <pattern id="ticked" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect width="8" height="8" fill="var(--work)" />
            <rect width="2.5" height="8" fill="var(--work-now)" />
          </pattern>
        </defs>
        <g>
          {wheels.map(([x, y]) => (
            <rect key={`${x}-${y}`} class="wheel" x={x} y={y} width="12" height="42" rx="5" />
          ))}
          <path class="glass" d="M97 128q43-9 86 0l-7 32q-36-7-72 0z" />
          <path class="glass" d="M102 256q38 7 76 0l5 30q-43 8-86 0z" />
        </g>
        {panelNames.map((panel) => (
          <Panel key={panel} panel={panel} on={on.has(panel)} mark={marks[panel]} role={role} onPanel={onPanel} />
        ))}
      </svg>
      <figcaption class="quiet">{caption}</figcaption>
    </figure>
  );
}

function Panel({
  panel,
  on,
  mark,
  role,
  onPanel,
}: {
  panel: PanelName;
  on: boolean;
  mark: string | undefined;
  role: 'checkbox' | 'button';
  onPanel: (panel: PanelName) => void;
}) {
  const mirrored = panel.startsWith('right') ? (panel.replace('right', 'left') as PanelName) : null;
  const outline = middle[panel] ?? leftSide[mirrored ?? panel] ?? '';
  const [x, y] = centres[panel];
  const shown = mark ?? (on && role === 'checkbox' ? '✓' : '');
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the role is a property
    // biome-ignore lint/a11y/useAriaPropsSupportedByRole: each role gets the state it supports, and the other none
    <g
      role={role}
      tabindex={0}
      aria-label={mark ? `${words.panels[panel]}, ${mark}` : words.panels[panel]}
      aria-checked={role === 'checkbox' ? on : undefined}
      aria-pressed={role === 'button' ? on : undefined}
      onClick={() => onPanel(panel)}
      onKeyDown={(event) => {
        if (event.key !== ' ' && event.key !== 'Enter') return;
        event.preventDefault();
        onPanel(panel);
      }}
    >
      <path class="panelshape" d={outline} transform={mirrored ? 'translate(280 0) scale(-1 1)' : undefined} />
      {shown ? (
        <>
          <circle cx={x} cy={y} r="12" fill="var(--sheet)" />
          <text x={x} y={y}>
            {shown}
          </text>
        </>
      ) : null}
    </g>
  );
}
