import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { monday9, type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let address: string;

beforeEach(async () => {
  opened = await openShop({ api: { heartbeatMs: 20 } });
  await opened.app.listen({ host: '127.0.0.1', port: 0 });
  const { port } = opened.app.server.address() as AddressInfo;
  address = `http://127.0.0.1:${port}/v1/shops/${shop.id}/events`;
});
afterEach(() => opened.close());

async function tell(kind: string, subject: string) {
  await opened.store.outbox.append(shop.id, { kind, subject, at: monday9, body: { n: subject, madeAt: monday9 } });
}

interface Received {
  id: number;
  event: string;
  data: { subject: string; at: string; body: unknown };
}

/** Reads a stream as the HTML standard's section 9.2 has it, until so many events have come. */
async function receive(init: { url?: string; lastEventId?: string; wanted: number; onOpen?: () => Promise<void> }) {
  const leaving = new AbortController();
  const reply = await fetch(init.url ?? address, {
    signal: leaving.signal,
    ...(init.lastEventId === undefined ? {} : { headers: { 'last-event-id': init.lastEventId } }),
  });
  expect(reply.status).toBe(200);
  expect(reply.headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
  expect(reply.headers.get('cache-control')).toBe('no-store');
  const events: Received[] = [];
  let comments = 0;
  let text = '';
  let opening = init.onOpen;
  const decoder = new TextDecoder();
  for await (const chunk of reply.body as unknown as AsyncIterable<Uint8Array>) {
    text += decoder.decode(chunk, { stream: true });
    const blocks = text.split('\n\n');
    text = blocks.pop() ?? '';
    for (const block of blocks) {
      if (block.startsWith(':')) comments += 1;
      const fields = Object.fromEntries(
        block.split('\n').map((line) => [line.split(': ')[0], line.split(': ').slice(1).join(': ')]),
      );
      if (fields.data !== undefined)
        events.push({ id: Number(fields.id), event: fields.event ?? '', data: JSON.parse(fields.data) });
    }
    if (opening && comments > 0) {
      const open = opening;
      opening = undefined;
      await open();
    }
    if (events.length >= init.wanted && (init.wanted > 0 || comments > 1)) break;
  }
  leaving.abort();
  return { events, comments };
}

describe('live events', () => {
  test('after a break, Last-Event-ID gets everything since, in order and once', async () => {
    for (const subject of ['a', 'b', 'c', 'd']) await tell('job.changed', subject);
    const { events } = await receive({ lastEventId: '1', wanted: 3 });
    expect(events.map(({ id, data }) => [id, data.subject])).toEqual([
      [2, 'b'],
      [3, 'c'],
      [4, 'd'],
    ]);
    expect(events[0]).toMatchObject({
      event: 'job.changed',
      data: { at: '2026-03-02T09:00:00+01:00', body: { n: 'b', madeAt: '2026-03-02T09:00:00+01:00' } },
    });
  });

  test('a client that cannot set the header may ask in the address', async () => {
    await tell('job.changed', 'a');
    await tell('job.changed', 'b');
    const { events } = await receive({ url: `${address}?after=1`, wanted: 1 });
    expect(events.map(({ id }) => id)).toEqual([2]);
  });

  test('a new client hears what comes, not what was', async () => {
    await tell('job.changed', 'old');
    const { events } = await receive({
      wanted: 2,
      onOpen: async () => {
        await tell('plan.published', 'new');
        await tell('plan.published', 'newer');
      },
    });
    expect(events.map(({ data }) => data.subject)).toEqual(['new', 'newer']);
  });

  test('a quiet stream is kept open by comments', async () => {
    const { comments, events } = await receive({ wanted: 0 });
    expect(comments).toBeGreaterThan(1);
    expect(events).toEqual([]);
  });

  test('another shop is not overheard', async () => {
    await opened.store.shops.put({ ...shop, id: 'second' as typeof shop.id }, 'new');
    const { events } = await receive({
      wanted: 1,
      onOpen: async () => {
        await opened.store.outbox.append('second' as typeof shop.id, {
          kind: 'x',
          subject: 'theirs',
          at: monday9,
          body: {},
        });
        await tell('job.changed', 'ours');
      },
    });
    expect(events.map(({ data }) => data.subject)).toEqual(['ours']);
  });

  test('a number that is none is refused', async () => {
    const reply = await fetch(address, { headers: { 'last-event-id': 'latest' } });
    expect(reply.status).toBe(400);
    const problem = (await reply.json()) as { errors: unknown };
    expect(problem.errors).toMatchObject([{ in: 'header', field: '/last-event-id' }]);
  });

  test('closing the service ends the streams', async () => {
    const reply = await fetch(address);
    const read = reply.body?.getReader();
    await read?.read();
    await opened.app.close();
    let done = false;
    try {
      while (!done) done = (await read?.read())?.done ?? true;
    } catch {
      done = true;
    }
    expect(done).toBe(true);
  });
});
