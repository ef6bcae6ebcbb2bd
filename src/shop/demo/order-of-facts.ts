import type { FloorFact } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';

export interface TimedFact {
  readonly occurredAt: Instant;
  readonly fact: FloorFact;
}

/** At one instant, what ends comes before a move, and a move before what begins; a pickup is the last. */
const ORDER: readonly FloorFact['kind'][] = [
  'finished',
  'interrupted',
  'failedFinalInspection',
  'arrived',
  'moved',
  'started',
  'resumed',
];

/** Compares facts as a floor would have told them one after another. */
export function asTold(a: TimedFact, b: TimedFact): number {
  return a.occurredAt - b.occurredAt || rank(a.fact) - rank(b.fact);
}

function rank({ kind }: FloorFact): number {
  const place = ORDER.indexOf(kind);
  return place < 0 ? ORDER.length : place;
}
