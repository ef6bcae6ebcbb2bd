import { words } from '../words.ts';

/** How sure a pickup is, against what the shop asks for: a bar with a tick, the figure beside it. */
export function Meter({ percent, asked }: { percent: number; asked: number }) {
  return (
    <span>
      <span class={`meter ${percent < asked ? 'low' : ''}`} aria-hidden="true">
        <span class="filled" style={{ width: `${percent}%` }} />
        <span class="asked" style={{ left: `${asked}%` }} />
      </span>{' '}
      {words.promises.chance(percent)}
    </span>
  );
}
