import { randomUUID } from 'node:crypto';
import { setTimeout as pause } from 'node:timers/promises';
import { succeed } from './client.ts';

interface PlanReply {
  readonly stays: readonly { jobId: string; placeId: string; from: string }[];
  readonly operations: readonly { jobId: string; operation: string; kind: string; start: string; people: string[] }[];
}

/** A tablet on the floor: cars arrive, their work is started and finished, one fact after another, until told to stop. */
export async function workTheFloor(shop: string, everyMs: number, stop: AbortSignal): Promise<number[]> {
  const { body: plan } = await succeed<PlanReply>(`${shop}/plan`);
  const ms: number[] = [];
  for (const fact of facts(plan)) {
    if (stop.aborted) return ms;
    const url = `${shop}/jobs/${fact.jobId}/floor-events`;
    const body = { clientId: randomUUID(), occurredAt: new Date().toISOString(), fact: fact.fact };
    ms.push((await succeed(url, body)).ms);
    await pause(everyMs);
  }
  return ms;
}

/** Car by car in the order of their drop-offs: arrived, then each attended operation of its first stay begun and done. */
function* facts({ stays, operations }: PlanReply): Generator<{ readonly jobId: string; readonly fact: object }> {
  const taken = new Set<string>();
  const firstStay = new Map<string, PlanReply['stays'][number]>();
  for (const stay of [...stays].sort((a, b) => a.from.localeCompare(b.from))) {
    if (!firstStay.has(stay.jobId)) firstStay.set(stay.jobId, stay);
  }
  for (const { jobId, placeId } of firstStay.values()) {
    if (taken.has(placeId)) continue;
    taken.add(placeId);
    yield { jobId, fact: { kind: 'arrived', placeId } };
    const work = operations.filter((each) => each.jobId === jobId && each.people.length > 0 && each.kind !== 'move');
    for (const { operation, people } of work.sort((a, b) => a.start.localeCompare(b.start)).slice(0, 4)) {
      yield { jobId, fact: { kind: 'started', operation, by: people } };
      yield { jobId, fact: { kind: 'finished', operation } };
    }
  }
}
