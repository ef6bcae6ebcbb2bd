import type { Instant } from '../../trade/model/time.ts';

/** The nearest slot that would hold a job. */
export interface Nearest {
  readonly dropOffAt: Instant;
  readonly readyAt: Instant;
  readonly pickupAt: Instant;
  /** Probability that the pickup time is kept, in percent. */
  readonly confidencePercent: number;
}
