import { Chains } from './chains.ts';

/** Why one thing waits for another, and the number that stands for it. */
export const WAIT = {
  lag: 0,
  stay: 1,
  place: 2,
  person: 3,
  equipment: 4,
  air: 5,
  standstill: 6,
  tandem: 7,
  order: 8,
} as const;
export type WaitsFor = keyof typeof WAIT;
/** The reasons by number. */
export const WAITS_FOR = Object.keys(WAIT) as readonly WaitsFor[];

/** "To" comes at least `lag` minutes after "from", whenever both are present. */
export interface Arc {
  readonly from: number;
  readonly fromEnd: boolean;
  readonly to: number;
  readonly toEnd: boolean;
  readonly lag: number;
  /** One of `WAIT`. */
  readonly waitsFor: number;
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

/** Bits of an arc's edges. */
export const FROM_END = 1;
export const TO_END = 2;

/** What a plan's order consists of, while it is collected. Its arcs are kept field by field: there are thousands, gone through again and again. */
export class PlanOrder {
  readonly from: number[] = [];
  readonly to: number[] = [];
  /** `FROM_END` and `TO_END`, added up. */
  readonly edges: number[] = [];
  readonly lag: number[] = [];
  readonly waitsFor: number[] = [];
  readonly about: number[] = [];
  /** Arcs by the node they lead from, and by the one they lead to. */
  readonly outOf: Chains;
  readonly into: Chains;
  readonly windows: Window[] = [];
  /** Pairs that share a resource only because the first pauses: the second keeps clear of its worked pieces. */
  readonly clearOf: { readonly node: number; readonly of: number }[] = [];
  /** Interchangeable equipment: starts keep their order, and whichever unit is free first is taken. */
  readonly pools: { readonly resource: number; readonly units: number; readonly members: readonly number[] }[] = [];

  constructor(nodes: number) {
    this.outOf = new Chains(nodes);
    this.into = new Chains(nodes);
  }

  /** Arcs until now. */
  get count(): number {
    return this.from.length;
  }

  add({ from, fromEnd, to, toEnd, lag, waitsFor, about }: Arc): void {
    const edges = (fromEnd ? FROM_END : 0) + (toEnd ? TO_END : 0);
    if (from === to || this.#isKnown(from, to, edges, lag, waitsFor === WAIT.order)) return;
    this.from.push(from);
    this.to.push(to);
    this.edges.push(edges);
    this.lag.push(lag);
    this.waitsFor.push(waitsFor);
    this.about.push(about);
    this.outOf.add(from);
    this.into.add(to);
  }

  #isKnown(from: number, to: number, edges: number, lag: number, isOrder: boolean): boolean {
    const { first, next } = this.into;
    for (let a = first[to]!; a >= 0; a = next[a]!) {
      if (this.from[a] !== from || this.edges[a] !== edges || this.lag[a] !== lag) continue;
      if ((this.waitsFor[a] === WAIT.order) === isOrder) return true;
    }
    return false;
  }

  /** All windows are made here, so that they have one shape: the replay reads them often. */
  limit(
    { from, fromEnd, to, toEnd }: Pick<Window, 'from' | 'fromEnd' | 'to' | 'toEnd'>,
    max: number,
    remedy: readonly number[],
  ): void {
    this.windows.push({ from, fromEnd, to, toEnd, max, remedy });
  }

  after(from: number, to: number, waitsFor: number, about = -1): void {
    this.add({ from, fromEnd: true, to, toEnd: false, lag: 0, waitsFor, about });
  }
}
