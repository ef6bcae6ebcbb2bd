/** Why one thing waits for another. */
export const WAITS_FOR = [
  'lag',
  'stay',
  'place',
  'person',
  'equipment',
  'air',
  'standstill',
  'tandem',
  'order',
] as const;
export type WaitsFor = (typeof WAITS_FOR)[number];

/** "To" comes at least `lag` minutes after "from", whenever both are present. */
export interface Arc {
  readonly from: number;
  readonly fromEnd: boolean;
  readonly to: number;
  readonly toEnd: boolean;
  readonly lag: number;
  readonly waitsFor: WaitsFor;
  /** The lag, place, resource or zone it stands for; -1 when none. */
  readonly about: number;
}

/** A time from `from` to `to` that may not be longer than `max`. With remedies it may, and they are done. */
export interface Window {
  readonly from: number;
  readonly fromEnd: boolean;
  readonly to: number;
  readonly toEnd: boolean;
  readonly max: number;
  readonly remedy: readonly number[];
}

/** Nodes are numbered below this, so that two of them and a little more fit a safe integer. */
const MOST_NODES = 2 ** 24;

/** What a plan's order consists of, while it is collected. */
export class PlanOrder {
  readonly arcs: Arc[] = [];
  readonly windows: Window[] = [];
  /** Pairs that share a resource only because the first pauses: the second keeps clear of its worked pieces. */
  readonly clearOf: { readonly node: number; readonly of: number }[] = [];
  /** Interchangeable equipment: starts keep their order, and whichever unit is free first is taken. */
  readonly pools: { readonly resource: number; readonly units: number; readonly members: readonly number[] }[] = [];
  /** Lags known, by the ends of an arc and whether it is of order alone. */
  readonly #known = new Map<number, number[]>();

  add(arc: Arc): void {
    if (arc.from === arc.to) return;
    const how = (arc.fromEnd ? 1 : 0) + (arc.toEnd ? 2 : 0) + (arc.waitsFor === 'order' ? 4 : 0);
    const ends = (arc.from * MOST_NODES + arc.to) * 8 + how;
    const lags = this.#known.get(ends);
    if (lags === undefined) this.#known.set(ends, [arc.lag]);
    else if (lags.includes(arc.lag)) return;
    else lags.push(arc.lag);
    this.arcs.push(arc);
  }

  /** All windows are made here, so that they have one shape: the replay reads them often. */
  limit(
    { from, fromEnd, to, toEnd }: Pick<Window, 'from' | 'fromEnd' | 'to' | 'toEnd'>,
    max: number,
    remedy: readonly number[],
  ): void {
    this.windows.push({ from, fromEnd, to, toEnd, max, remedy });
  }

  after(from: number, to: number, waitsFor: WaitsFor, about = -1, lag = 0): void {
    this.add({ from, fromEnd: true, to, toEnd: false, lag, waitsFor, about });
  }
}
