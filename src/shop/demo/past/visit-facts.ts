import { OperationKey } from '../../../trade/model/ids.ts';
import type { FloorFact } from '../../../trade/model/job.ts';
import type { Instant } from '../../../trade/model/time.ts';
import { asTold, type TimedFact } from '../order-of-facts.ts';
import type { PastVisit } from './run-past.ts';

/**
 * What a floor tells of a visit, in the order in which it happened.
 *
 * @param forgotten minutes after which the end of single operations was told, by key.
 */
export function visitFacts(visit: PastVisit, forgotten: ReadonlyMap<string, number>): TimedFact[] {
  const facts: TimedFact[] = [];
  const add = (occurredAt: number, fact: FloorFact) => facts.push({ occurredAt: occurredAt as Instant, fact });
  for (const [index, { placeId, from }] of visit.stays.entries()) {
    add(from, { kind: index === 0 ? 'arrived' : 'moved', placeId });
  }
  for (const { key, by, pieces, failed } of visit.work) {
    const operation = OperationKey.parse(key);
    for (const [index, { from, to }] of pieces.entries()) {
      if (index === 0) add(from, { kind: 'started', operation, by: [by] });
      else add(from, { kind: 'resumed', operation });
      if (index < pieces.length - 1) add(to, { kind: 'interrupted', operation, reason: 'end of the shift' });
      else add(to + (forgotten.get(key) ?? 0) * 60_000, { kind: 'finished', operation });
    }
    if (failed !== null) {
      const end = pieces.at(-1)!.to;
      add(end, { kind: 'failedFinalInspection', reworkMinutes: failed, note: 'Holograms on the bonnet.' });
    }
  }
  if (visit.leftAt !== null) add(visit.leftAt, { kind: 'pickedUp' });
  return facts.sort(asTold);
}
