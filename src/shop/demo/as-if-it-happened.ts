import type { JobId } from '../../trade/model/ids.ts';
import type { FloorFact } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { asTold, type TimedFact } from './order-of-facts.ts';

/** A fact of the demo's past. */
export interface PastFact extends TimedFact {
  readonly jobId: JobId;
}

/** The facts a floor would have told by `now`, had a plan run to the minute: arrivals, moves, work begun and done, pickups. */
export function asIfItHappened(plan: Plan, now: Instant): readonly PastFact[] {
  const facts: PastFact[] = [];
  const add = (jobId: JobId, occurredAt: Instant, fact: FloorFact) => {
    if (occurredAt <= now) facts.push({ jobId, occurredAt, fact });
  };
  for (const { jobId } of plan.jobs) {
    const stays = plan.stays.filter((stay) => stay.jobId === jobId).sort((a, b) => a.from - b.from);
    for (const [index, { placeId, from }] of stays.entries()) {
      add(jobId, from, { kind: index === 0 ? 'arrived' : 'moved', placeId });
    }
    for (const work of plan.operations.filter((each) => each.jobId === jobId)) {
      // Unattended work runs by itself, and a move is told by the place the car has come to.
      if (work.people.length === 0 || work.kind === 'move' || work.end === work.start) continue;
      add(jobId, work.start, { kind: 'started', operation: work.operation, by: [...work.people] });
      for (const [index, piece] of work.pieces.entries()) {
        if (index > 0) add(jobId, piece.from, { kind: 'resumed', operation: work.operation });
        const next = work.pieces[index + 1];
        if (next === undefined) add(jobId, work.end, { kind: 'finished', operation: work.operation });
        else add(jobId, piece.to, { kind: 'interrupted', operation: work.operation, reason: 'end of the shift' });
      }
    }
    const last = stays.at(-1);
    if (last !== undefined) add(jobId, last.to, { kind: 'pickedUp' });
  }
  return facts.sort(asTold);
}
