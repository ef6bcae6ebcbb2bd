import { useEffect, useRef, useState } from 'preact/hooks';

/** Hours are offered by the quarter. */
const STEP_MS = 15 * 60_000;
/** A pointer that moves less than this has clicked. */
const SLOP_PX = 6;
/** A finger has to rest this long before it lifts a car; until then it scrolls. */
const HOLD_MS = 350;
/** Near the sheet's edge it scrolls along. */
const EDGE_PX = 36;

/** Something on the sheet that can be taken elsewhere: a car's work from `at` on, in a column. */
export interface Liftable {
  readonly jobId: string;
  /** Null: the car's next work, whatever it is. */
  readonly operation: string | null;
  /** Id of the place or person whose column it lies in. */
  readonly column: string;
  /** When the work begins that would go elsewhere, and until when the block lasts, in milliseconds since 1970. */
  readonly at: number;
  readonly until: number;
  readonly plate: string;
}

export interface Carried extends Liftable {
  readonly toColumn: string;
  readonly toAt: number;
}

/** What was asked for by letting go: null where nothing changes. */
export interface Dropped {
  readonly jobId: string;
  readonly operation: string | null;
  readonly column: string | null;
  readonly startAt: string | null;
}

interface Scale {
  readonly from: number;
  readonly to: number;
  readonly pixelsPerMs: number;
  /** Ids in the order shown, for the arrow keys. */
  readonly columns: readonly string[];
}

const toStep = (at: number) => Math.round(at / STEP_MS) * STEP_MS;

/** What letting go here asks for; null when it is where it was. */
export function droppedAt(carried: Carried): Dropped | null {
  const moved = Math.abs(carried.toAt - carried.at) >= STEP_MS / 2;
  const column = carried.toColumn === carried.column ? null : carried.toColumn;
  if (column === null && !moved) return null;
  const startAt = moved ? new Date(carried.toAt).toISOString() : null;
  return { jobId: carried.jobId, operation: carried.operation, column, startAt };
}

/**
 * Takes work from one column and hour to another: by mouse or pen, by a finger that rests on it first, or with Shift and
 * the arrow keys and Enter. Escape puts it back. Columns are elements with `data-column`.
 */
export function useCarry(scale: Scale, onDrop: (dropped: Dropped) => void) {
  const [carried, setCarried] = useState<Carried | null>(null);
  const held = useRef<Carried | null>(null);
  const wasCarried = useRef(false);
  const release = useRef<() => void>(() => {});
  const hold = (next: Carried | null) => {
    held.current = next;
    setCarried(next);
  };
  useEffect(() => () => release.current(), []);

  const letGo = () => {
    const dropped = held.current && droppedAt(held.current);
    hold(null);
    if (dropped) onDrop(dropped);
  };

  const grab = (item: Liftable) => (event: PointerEvent) => {
    if (event.button !== 0) return;
    const byFinger = event.pointerType === 'touch';
    const { clientX, clientY } = event;
    const track = (event.currentTarget as HTMLElement).closest<HTMLElement>('[data-column]');
    if (track === null) return;
    const yOf = (at: number, box: DOMRect) => box.top + (at - scale.from) * scale.pixelsPerMs;
    const offset = clientY - yOf(item.at, track.getBoundingClientRect());
    let lifted = false;
    wasCarried.current = false;
    const lift = () => {
      lifted = true;
      wasCarried.current = true;
      hold({ ...item, toColumn: item.column, toAt: item.at });
    };
    const timer = byFinger ? setTimeout(lift, HOLD_MS) : undefined;
    const move = (moved: PointerEvent) => {
      const far = Math.hypot(moved.clientX - clientX, moved.clientY - clientY) > SLOP_PX;
      if (!lifted && byFinger && far) return end();
      if (!lifted && far) lift();
      if (!lifted || !held.current) return;
      const column = document
        .elementsFromPoint(moved.clientX, moved.clientY)
        .map((each) => each.closest<HTMLElement>('[data-column]'))
        .find((each) => each !== null);
      const box = (column ?? track).getBoundingClientRect();
      const at = scale.from + (moved.clientY - offset - box.top) / scale.pixelsPerMs;
      const toAt = Math.abs(at - item.at) < STEP_MS / 2 ? item.at : toStep(at);
      hold({ ...held.current, toColumn: column?.dataset.column ?? item.column, toAt });
      scrollAlong(track, moved);
    };
    const up = () => {
      end();
      if (lifted) letGo();
      // The click that belongs to this comes at once, or not at all.
      setTimeout(() => {
        wasCarried.current = false;
      });
    };
    const cancel = () => {
      end();
      if (!lifted || !byFinger) hold(null);
    };
    const putBack = (pressed: KeyboardEvent) => {
      if (pressed.key !== 'Escape') return;
      end();
      hold(null);
    };
    const still = (touched: TouchEvent) => lifted && touched.preventDefault();
    const end = () => {
      clearTimeout(timer);
      removeEventListener('pointermove', move);
      removeEventListener('pointerup', up);
      removeEventListener('pointercancel', cancel);
      removeEventListener('keydown', putBack);
      removeEventListener('touchmove', still);
    };
    release.current = end;
    addEventListener('pointermove', move);
    addEventListener('pointerup', up);
    addEventListener('pointercancel', cancel);
    addEventListener('keydown', putBack);
    addEventListener('touchmove', still, { passive: false });
  };

  const press = (item: Liftable) => (event: KeyboardEvent) => {
    const now = held.current;
    if (now && event.key === 'Escape') hold(null);
    else if (now && event.key === 'Enter') letGo();
    else if (event.shiftKey && event.key.startsWith('Arrow')) {
      const from = now ?? { ...item, toColumn: item.column, toAt: item.at };
      hold(stepped(from, event.key, scale));
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };

  /** True once after a drag, whose end the browser also tells as a click. */
  const swallowClick = () => {
    const swallow = wasCarried.current;
    wasCarried.current = false;
    return swallow;
  };

  return { carried, grab, press, swallowClick };
}

export type Carry = ReturnType<typeof useCarry>;

function stepped(carried: Carried, key: string, { columns, from, to }: Scale): Carried {
  const index = columns.indexOf(carried.toColumn);
  const beside = (step: number) => columns[Math.min(columns.length - 1, Math.max(0, index + step))] ?? carried.toColumn;
  const at = (step: number) =>
    Math.min(to - STEP_MS, Math.max(from, toStep(carried.toAt + step * STEP_MS + (step > 0 ? -1 : 1))));
  if (key === 'ArrowLeft') return { ...carried, toColumn: beside(-1) };
  if (key === 'ArrowRight') return { ...carried, toColumn: beside(1) };
  return { ...carried, toAt: at(key === 'ArrowDown' ? 1 : -1) };
}

function scrollAlong(track: HTMLElement, { clientX, clientY }: PointerEvent): void {
  const sheet = track.closest<HTMLElement>('.sheet');
  if (sheet === null) return;
  const box = sheet.getBoundingClientRect();
  const pull = (at: number, low: number, high: number) => (at < low + EDGE_PX ? -12 : at > high - EDGE_PX ? 12 : 0);
  sheet.scrollBy(pull(clientX, box.left, box.right), pull(clientY, box.top + EDGE_PX, box.bottom));
}
