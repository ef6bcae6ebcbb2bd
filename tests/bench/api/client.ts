import { randomUUID } from 'node:crypto';

/** The secret of the bench's token for a shop, in databases that live as long as the bench. */
export function benchTokenOf(shopId: string): string {
  return `bench-token-of-a-database-that-is-thrown-away-${shopId}`;
}

export interface Timed<T> {
  readonly status: number;
  readonly body: T;
  /** From sending the request to having read the whole reply. */
  readonly ms: number;
}

/** One request and its whole reply, timed. A POST carries an idempotency key, as clients must. */
export async function timedRequest<T>(url: string, body?: unknown): Promise<Timed<T>> {
  const shopId = /\/v1\/shops\/([^/?]+)/.exec(url)?.[1] ?? '';
  const headers = { authorization: `Bearer ${benchTokenOf(shopId)}` };
  const began = performance.now();
  const reply = await fetch(
    url,
    body === undefined
      ? { headers }
      : {
          method: 'POST',
          headers: { ...headers, 'content-type': 'application/json', 'idempotency-key': randomUUID() },
          body: JSON.stringify(body),
        },
  );
  const text = await reply.text();
  const ms = performance.now() - began;
  return { status: reply.status, body: JSON.parse(text) as T, ms };
}

/** The same, for a request that must succeed. @throws with the reply's own words when it does not */
export async function succeed<T>(url: string, body?: unknown): Promise<Timed<T>> {
  const reply = await timedRequest<T>(url, body);
  if (reply.status >= 400) throw new Error(`${url}: ${reply.status} ${JSON.stringify(reply.body).slice(0, 600)}`);
  return reply;
}
