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

/** A time from `from` to `to` that may not be longer than `max`. With remedies it may, and they are done. */
export interface Window {
  readonly from: number;
  readonly fromEnd: boolean;
  readonly to: number;
  readonly toEnd: boolean;
  readonly max: number;
  readonly remedy: readonly number[];
}

/** Which edges of its two nodes an arc ties: a bit for the end of the first, and one for the end of the second. */
export const FROM_END = 1;
export const TO_END = 2;
export const START_TO_START = 0;
export const END_TO_START = FROM_END;

export const edgesOf = (fromEnd: boolean, toEnd: boolean): number => (fromEnd ? FROM_END : 0) + (toEnd ? TO_END : 0);

/**
 * What a plan's order consists of, while it is collected. By an arc its "to" comes at least `lag` minutes after its "from", whenever
 * both are present. Arcs are kept field by field: there are thousands, gone through again and again.
 */
export class PlanOrder {
  readonly from: number[] = [];
  readonly to: number[] = [];
  readonly edges: number[] = [];
  readonly lag: number[] = [];
  /** One of `WAIT`. */
  readonly waitsFor: number[] = [];
  /** The lag, place, resource or zone it stands for; -1 when none. */
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

  add(from: number, to: number, edges: number, lag: number, waitsFor: number, about: number): void {
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
  limit(from: number, to: number, edges: number, max: number, remedy: readonly number[]): void {
    const fromEnd = (edges & FROM_END) !== 0;
    const toEnd = (edges & TO_END) !== 0;
    this.windows.push({ from, fromEnd, to, toEnd, max, remedy });
  }

  after(from: number, to: number, waitsFor: number, about = -1): void {
    this.add(from, to, END_TO_START, 0, waitsFor, about);
  }
}
