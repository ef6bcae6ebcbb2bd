import { recordKey } from '../../trade/formulate/floor-record.ts';
import type { FloorEvent } from '../../trade/model/job.ts';
import { whatHappened } from './what-happened.ts';

/** In which way a fact does not follow from the facts that occurred before it; it is recorded all the same. */
export function oddities(events: readonly FloorEvent[], event: FloorEvent): readonly string[] {
  const before = events.filter(
    (each) =>
      each.occurredAt < event.occurredAt || (each.occurredAt === event.occurredAt && each.sequence < event.sequence),
  );
  const known = whatHappened(before, event.occurredAt);
  const { fact } = event;
  if (fact.kind === 'arrived') return known.arrivedAt === null ? [] : ['The car was told to arrive twice.'];
  if (fact.kind === 'moved') {
    return known.arrivedAt === null ? ['The car was moved, and nobody told that it had arrived.'] : [];
  }
  if (fact.kind === 'pickedUp') {
    if (known.arrivedAt === null) return ['The car was picked up, and nobody told that it had arrived.'];
    return known.pickedUpAt === null ? [] : ['The car was told to be picked up twice.'];
  }
  if (fact.kind === 'noted' || fact.kind === 'failedFinalInspection') return [];
  const state = known.work.get(recordKey(fact.operation))?.state;
  const name = fact.operation;
  if (state === 'finished' || state === 'abandoned')
    return [`${name} was ${state} before "${fact.kind}" was recorded.`];
  if (fact.kind === 'started') return state === 'underWay' ? [`${name} was started twice.`] : [];
  if (state === undefined) return [`${name}: "${fact.kind}" was recorded, and nobody told that it was started.`];
  if (fact.kind === 'resumed' && state === 'underWay') return [`${name} was resumed though nobody had interrupted it.`];
  if (fact.kind === 'interrupted' && state === 'paused') return [`${name} was interrupted twice.`];
  return [];
}
