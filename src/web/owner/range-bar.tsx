interface RangeBarProps {
  /** Where on the scale, 0 to 1; the ends null when not known. */
  readonly at: number;
  readonly from: number | null;
  readonly to: number | null;
  /** What it is held against, 0 to 1. */
  readonly against?: number;
  readonly clear?: boolean;
}

const clamp = (share: number) => 100 * Math.min(1, Math.max(0, share));

/** A figure with its interval on a scale, against a line; the same stands in words beside it. */
export function RangeBar({ at, from, to, against, clear = false }: RangeBarProps) {
  return (
    <div class={`rangebar ${clear ? 'clear' : ''}`} aria-hidden="true">
      {against === undefined ? null : <span class="against" style={{ left: `${clamp(against)}%` }} />}
      {from === null || to === null ? null : (
        <span class="span" style={{ left: `${clamp(from)}%`, width: `${Math.max(0.5, clamp(to) - clamp(from))}%` }} />
      )}
      <span class="point" style={{ left: `${clamp(at)}%` }} />
    </div>
  );
}
