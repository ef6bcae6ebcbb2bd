import type { FloorFact, QueueItem } from '../../api/replies.ts';
import { call } from '../wire/api.ts';

/** Asks to start an operation: the server looks at the gates. */
export function start(shopId: string, item: QueueItem, by: string): Promise<unknown> {
  const clientId = crypto.randomUUID();
  return call(`/v1/shops/${shopId}/jobs/${item.jobId}/operations/${item.operation}/start`, {
    method: 'POST',
    body: { by: [by], clientId },
    key: clientId,
  });
}

/** Tells what has happened. */
export function tell(shopId: string, jobId: string, fact: FloorFact): Promise<unknown> {
  const clientId = crypto.randomUUID();
  return call(`/v1/shops/${shopId}/jobs/${jobId}/floor-events`, {
    method: 'POST',
    body: { clientId, occurredAt: new Date().toISOString(), fact },
    key: clientId,
  });
}
