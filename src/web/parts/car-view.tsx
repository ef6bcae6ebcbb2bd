import type { PanelName } from '../../api/replies.ts';
import { words } from '../words.ts';

/** Outlines of the panels, seen from above with the front on top, in a field of 200 by 384; left is the car's left. */
const leftSide: Partial<Record<PanelName, string>> = {
  leftFrontWing: 'M20 60q4-14 30-16l-2 76H16q0-34 4-60z',
  leftFrontDoor: 'M16 124h34l6 74H16z',
  leftRearDoor: 'M16 202h40l-4 66H16z',
  leftRearWing: 'M16 272h36l4 66q-30 0-36-16-4-24-4-50z',
  leftSill: 'M3 126h9v140H3z',
};
const middle: Partial<Record<PanelName, string>> = {
  frontBumper: 'M40 38q4-24 60-26 56 2 60 26-60-8-120 0z',
  bonnet: 'M54 44q46-8 92 0l-6 74q-40-8-80 0z',
  roof: 'M64 158q36-8 72 0l2 92q-38 8-76 0z',
  bootLid: 'M60 290q40 8 80 0l6 44q-46 8-92 0z',
  rearBumper: 'M40 344q60 10 120 0-4 26-60 28-56-2-60-28z',
};
const centres: Record<PanelName, readonly [number, number]> = {
  frontBumper: [100, 25],
  bonnet: [100, 80],
  roof: [100, 204],
  bootLid: [100, 316],
  rearBumper: [100, 360],
  leftFrontWing: [33, 86],
  leftFrontDoor: [34, 160],
  leftRearDoor: [34, 235],
  leftRearWing: [34, 304],
  leftSill: [8, 196],
  rightFrontWing: [167, 86],
  rightFrontDoor: [166, 160],
  rightRearDoor: [166, 235],
  rightRearWing: [166, 304],
  rightSill: [192, 196],
};

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
      <svg viewBox="-4 0 208 384" role="group" aria-label={caption}>
        <defs>
          <pattern id="ticked" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect width="8" height="8" fill="var(--work)" />
            <rect width="2.5" height="8" fill="var(--work-now)" />
          </pattern>
        </defs>
        <g>
          {[
            [0, 62],
            [190, 62],
            [0, 284],
            [190, 284],
          ].map(([x, y]) => (
            <rect key={`${x}-${y}`} class="wheel" x={x} y={y} width="10" height="46" rx="4" />
          ))}
          <path class="glass" d="M60 122q40-8 80 0l-5 32q-35-7-70 0z" />
          <path class="glass" d="M63 256q37 7 74 0l3 30q-40 8-80 0z" />
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
      <path class="panelshape" d={outline} transform={mirrored ? 'translate(200 0) scale(-1 1)' : undefined} />
      {shown ? (
        <>
          <circle cx={x} cy={y} r="10" fill="var(--sheet)" />
          <text x={x} y={y}>
            {shown}
          </text>
        </>
      ) : null}
    </g>
  );
}
