import type { FloorFact, QueueItem } from '../../api/replies.ts';
import { call, Unreachable } from '../wire/api.ts';
import { floorWords } from '../words/floor.ts';
import { type Action, kept, send, sendPhoto } from './outbox.ts';
import { shrinkPhoto } from './shrink-photo.ts';

/** What is shown of an operation once a fact of it is told. */
const shownAs: Partial<Record<FloorFact['kind'], NonNullable<Action['shows']>['as']>> = {
  started: 'underWay',
  resumed: 'underWay',
  interrupted: 'paused',
  finished: 'finished',
};

/**
 * Asks to start an operation: the server looks at the gates. Without a connection, work that no gate of chemistry guards is
 * begun as a fact and told later; coating, and work whose window has closed, is not.
 * @throws Refusal, Error with a sentence for the person
 */
export async function start(shopId: string, item: QueueItem, by: string): Promise<void> {
  const id = crypto.randomUUID();
  const at = `/v1/shops/${shopId}/jobs/${item.jobId}`;
  if (kept().length === 0) {
    try {
      await call(`${at}/operations/${item.operation}/start`, {
        method: 'POST',
        body: { by: [by], clientId: id },
        key: id,
      });
      return;
    } catch (failure) {
      if (!(failure instanceof Unreachable)) throw failure;
    }
  }
  if (item.conditions.length > 0) throw new Error(floorWords.needsServer);
  if (item.windowClosesAt && Date.parse(item.windowClosesAt) < Date.now()) throw new Error(floorWords.staleHere);
  // The same id: should the request have arrived after all, this is the same fact.
  await tell(shopId, item.jobId, { kind: 'started', operation: item.operation, by: [by] }, id);
}

/** Tells what has happened. */
export async function tell(
  shopId: string,
  jobId: string,
  fact: FloorFact,
  id: string = crypto.randomUUID(),
): Promise<void> {
  const as = shownAs[fact.kind];
  const operation = 'operation' in fact ? fact.operation : null;
  await send({
    id,
    path: `/v1/shops/${shopId}/jobs/${jobId}/floor-events`,
    body: { clientId: id, occurredAt: new Date().toISOString(), fact },
    ...(as && operation ? { shows: { jobId, operation, as } } : {}),
  });
}

/** A photograph of the car, of the operation it was taken at. */
export async function tellPhoto(shopId: string, item: QueueItem, file: Blob): Promise<void> {
  const id = crypto.randomUUID();
  const about = new URLSearchParams({
    clientId: id,
    takenAt: new Date().toISOString(),
    operation: item.operation,
  });
  await sendPhoto(id, `/v1/shops/${shopId}/jobs/${item.jobId}/photos?${about}`, await shrinkPhoto(file));
}

/** The queue as it will be once what waits on the device has landed. */
export function withKept(items: readonly QueueItem[], actions: readonly Action[]): QueueItem[] {
  return items.map((item) => {
    const shown = actions.findLast(
      ({ shows }) => shows && shows.jobId === item.jobId && shows.operation === item.operation,
    )?.shows;
    if (!shown) return item;
    const when = shown.as === 'finished' ? 'done' : 'now';
    return { ...item, when, planned: { ...item.planned, state: shown.as } };
  });
}
