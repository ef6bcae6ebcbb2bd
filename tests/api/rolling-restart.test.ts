import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { migrate } from '../../src/store/migration/migrate.ts';
import { type Opened, openShop, shop } from './a-shop.ts';

let folder: string;
let databaseUrl: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'panelday-rolling-'));
  databaseUrl = `file:${join(folder, 'shared.db')}`;
  await migrate({ databaseUrl });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

interface Served extends Opened {
  readonly address: string;
}

/** A server on the one database that all of them share. */
async function serve(isFirst = false): Promise<Served> {
  const opened = await openShop({ databaseUrl, empty: !isFirst });
  return { ...opened, address: await opened.app.listen({ port: 0, host: '127.0.0.1' }) };
}

test('while two servers are replaced one after the other, every request is answered', async () => {
  const servers = [await serve(true), await serve()];
  let turn = 0;
  /**
   * As a proxy in front does: to the next server, and to the other one when the line is not taken or ends without a reply; a request
   * that changes nothing may be sent again then (RFC 9110, section 9.2.2), one that does has its Idempotency-Key for it.
   */
  const ask = async (): Promise<number> => {
    const [one, other] = turn++ % 2 === 0 ? servers : [...servers].reverse();
    const path = `/v1/shops/${shop.id}/places`;
    const reply = await fetch(one!.address + path).catch((refused: Error) => {
      const { code = '' } = (refused.cause ?? {}) as NodeJS.ErrnoException;
      if (!['ECONNREFUSED', 'ECONNRESET', 'UND_ERR_SOCKET'].includes(code)) throw refused;
      return fetch(other!.address + path);
    });
    await reply.arrayBuffer();
    return reply.status;
  };
  const statuses: number[] = [];
  let isOver = false;
  const clients = Array.from({ length: 4 }, async () => {
    while (!isOver) statuses.push(await ask());
  });
  const afterSomeMore = async () => {
    const seen = statuses.length;
    while (statuses.length < seen + 20) await new Promise((resolve) => setTimeout(resolve, 1));
  };
  for (const index of [0, 1]) {
    await afterSomeMore();
    const fresh = await serve();
    const old = servers[index]!;
    servers[index] = fresh;
    await old.close();
  }
  await afterSomeMore();
  isOver = true;
  await Promise.all(clients);
  expect(statuses.length).toBeGreaterThanOrEqual(60);
  expect(new Set(statuses)).toEqual(new Set([200]));
  for (const server of servers) await server.close();
});

test('a request that is being answered when its server closes is answered, and its line ends with it', async () => {
  const served = await serve();
  const { places } = served.store;
  const list = places.list.bind(places);
  let letGo = () => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  const reached = new Promise<void>((resolve) => {
    Object.assign(places, {
      list: async (id: typeof shop.id) => {
        resolve();
        await held;
        return list(id);
      },
    });
  });
  const asked = fetch(`${served.address}/v1/shops/${shop.id}/places`);
  await reached;
  const closing = served.app.close();
  // Whoever comes now is not taken on any more.
  await expect(fetch(`${served.address}/health/live`)).rejects.toThrow();
  letGo();
  const reply = await asked;
  expect(reply.status).toBe(200);
  expect(reply.headers.get('connection')).toBe('close');
  await reply.arrayBuffer();
  await closing;
  await served.close();
});
