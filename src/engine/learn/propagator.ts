/** Something that can say why it raised a half. */
export interface Explainer {
  /**
   * Writes into the solver's explanation literals that held before trail entry `before` and together imply
   * [half >= need], where need is at most the bound that was set. The fewer and weaker the better.
   */
  explain(half: number, need: number, data: number, before: number): void;
}

/** Run from a queue after a half it watches has risen. */
export interface Propagator extends Explainer {
  /** False on a conflict: a half was emptied, or the conflict was written into the solver's explanation. */
  propagate(): boolean;
}

/** Run at once on each trail entry, before any queued propagator. */
export interface RisePropagator {
  /** Told when no more will be added, before the first propagation. */
  seal(): void;
  onRise(entry: number): boolean;
}
