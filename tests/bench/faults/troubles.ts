import { spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import { collectGarbage } from '../../../src/store/connection/collect-garbage.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { benchTokenOf, succeed } from '../api/client.ts';
import { putBook } from '../api/put-book.ts';
import { faultsOfRows } from '../integrity/faults-of-rows.ts';
import { raceShop } from '../races/race-shop.ts';
import { openDatabases } from '../servers/databases.ts';
import { type Server, startServer } from '../servers/server.ts';
import { openProxy } from './proxy.ts';

/** What was seen of one kind of trouble. */
export interface Trouble {
  readonly name: string;
  /** Status of a reading, a writing and the health of the process while it lasted; null: no reply in time. */
  readonly meanwhile: { readonly read: Seen; readonly write: Seen; readonly live: Seen };
  /** Longest of these, in milliseconds. */
  readonly longestMs: number;
  /** Milliseconds from its end to the next writing that succeeded. */
  readonly recoveredMs: number;
  readonly faults: readonly string[];
}

interface Seen {
  readonly status: number | null;
  readonly retryAfter: string | null;
  readonly type: string;
  readonly ms: number;
}

const SHOP = ShopId.parse('trouble');
const MOST_MS = 60_000;

async function ask(server: Server, path: string, body?: unknown): Promise<Seen> {
  const began = performance.now();
  const seen = (status: number | null, retryAfter: string | null, type: string): Seen => ({
    status,
    retryAfter,
    type,
    ms: performance.now() - began,
  });
  try {
    const reply = await fetch(server.address + path, {
      signal: AbortSignal.timeout(MOST_MS),
      headers: {
        ...(path.startsWith('/v1') ? { authorization: `Bearer ${benchTokenOf(SHOP)}` } : {}),
        ...(body === undefined ? {} : { 'content-type': 'application/json', 'idempotency-key': randomUUID() }),
      },
      ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
    });
    const text = await reply.text();
    const { type = '' } = text.startsWith('{') ? (JSON.parse(text) as { type?: string }) : {};
    return seen(reply.status, reply.headers.get('retry-after'), type.split('/').at(-1) ?? '');
  } catch {
    return seen(null, null, 'no reply');
  }
}

const read = (server: Server) => ask(server, `/v1/shops/${SHOP}/jobs/standing-1/floor-events`);
const live = (server: Server) => ask(server, '/health/live');
const write = (server: Server) =>
  ask(server, `/v1/shops/${SHOP}/jobs/standing-1/floor-events`, {
    clientId: randomUUID(),
    occurredAt: new Date().toISOString(),
    fact: { kind: 'noted', operation: null, text: 'x'.repeat(1_500) },
  });

interface Terms {
  readonly name: string;
  readonly databaseUrl: string;
  readonly throughUrl?: string;
  /** Whether the shop is there already and nothing can be written at first. */
  readonly isPrepared?: boolean;
  begin(): void | Promise<void>;
  end(): void | Promise<void>;
  /** What may be answered to a reading meanwhile. */
  readonly reads: readonly number[];
  readonly writes: readonly number[];
}

/** Brings a server into trouble, looks at it, ends the trouble, and waits until it works again without hands. */
async function through(terms: Terms): Promise<Trouble> {
  const server = await startServer({
    databaseUrl: terms.throughUrl ?? terms.databaseUrl,
    env: { PLAN_BUDGET_MS: '50' },
  });
  try {
    const faults: string[] = [];
    if (!terms.isPrepared) {
      await putBook(terms.databaseUrl, raceShop(SHOP, 2, Date.now() as Instant).book);
      await succeed(`${server.address}/v1/shops/${SHOP}/plan/replans`, { reason: 'before the trouble' });
      const before = await write(server);
      if (before.status !== 201) faults.push(`nothing could be written before: ${before.status}`);
    }
    await terms.begin();
    // Until the trouble is felt: a disk fills up write by write.
    let wrote = await write(server);
    for (let k = 0; k < 400 && wrote.status === 201 && !terms.writes.includes(201); k += 1) wrote = await write(server);
    const meanwhile = { read: await read(server), write: wrote, live: await live(server) };
    await terms.end();
    const ended = performance.now();
    let after = await write(server);
    while (after.status !== 201 && performance.now() - ended < MOST_MS) {
      await pause(100);
      after = await write(server);
    }
    if (!terms.reads.includes(meanwhile.read.status ?? 0))
      faults.push(`a reading was answered ${meanwhile.read.status}`);
    if (!terms.writes.includes(wrote.status ?? 0)) faults.push(`a writing was answered ${wrote.status} ${wrote.type}`);
    for (const each of [meanwhile.read, wrote]) {
      if (each.status === 503 && each.retryAfter === null) faults.push('503 without Retry-After');
    }
    if (meanwhile.live.status !== 200) faults.push(`the process was ${meanwhile.live.status}`);
    if (after.status !== 201) faults.push(`not recovered: ${after.status} ${after.type}`);
    const longestMs = Math.max(meanwhile.read.ms, wrote.ms, meanwhile.live.ms);
    const recoveredMs = performance.now() - ended;
    const code = await server.stop();
    if (code !== 0) faults.push(`stopped with ${code}`);
    return {
      name: terms.name,
      meanwhile,
      longestMs,
      recoveredMs,
      faults: [...faults, ...(await faultsOfRows(terms.databaseUrl))],
    };
  } catch (error) {
    await server.kill();
    throw error;
  }
}

const SMALL_DISK = 'size=6m';

const mount = (...args: string[]) => spawnSync('mount', args).status === 0;

/** What happens on a small disk of its own; nothing where this user may not mount one. */
async function onADisk(look: (folder: string) => Promise<Trouble>): Promise<Trouble[]> {
  const folder = mkdtempSync(join(tmpdir(), 'panelday-disk-'));
  if (process.getuid?.() !== 0 || !mount('-t', 'tmpfs', '-o', SMALL_DISK, 'tmpfs', folder)) {
    rmSync(folder, { recursive: true });
    console.log('A disk left out: this user may not mount one.\n');
    return [];
  }
  try {
    return [await look(folder)];
  } finally {
    spawnSync('umount', ['-l', folder]);
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A file on a disk that is filled, then freed. */
function filled(folder: string): Promise<Trouble> {
  const filler = join(folder, 'filler');
  return through({
    name: 'SQLite, disk full',
    databaseUrl: `file:${join(folder, 'full.db')}`,
    begin: () => {
      // As much as there is: the rest is for the database to find out.
      for (let size = 4_000_000; size >= 4_096; size /= 2) {
        try {
          writeFileSync(filler, Buffer.alloc(size), { flag: 'a' });
        } catch {
          // Less, then.
        }
      }
    },
    end: () => rmSync(filler),
    reads: [200],
    writes: [503],
  });
}

/** A server that died, and is started again while its disk cannot be written. */
async function readOnlyAtTheStart(folder: string): Promise<Trouble> {
  const databaseUrl = `file:${join(folder, 'read-only.db')}`;
  const before = await startServer({ databaseUrl, env: { PLAN_BUDGET_MS: '50' } });
  await putBook(databaseUrl, raceShop(SHOP, 2, Date.now() as Instant).book);
  await succeed(`${before.address}/v1/shops/${SHOP}/plan/replans`, { reason: 'before the trouble' });
  // This process has had the file open too; were it the last to let go, it would take the shared memory's file with it.
  await collectGarbage();
  await before.kill();
  const remount = (how: 'ro' | 'rw') => {
    if (!mount('-o', `remount,${how}`, folder)) throw new Error(`the disk could not be mounted ${how}`);
  };
  remount('ro');
  return through({
    name: 'SQLite, read-only when the server starts',
    databaseUrl,
    isPrepared: true,
    begin: () => {},
    end: () => remount('rw'),
    reads: [200],
    writes: [503],
  });
}

/** A PostgreSQL behind a line that is cut, goes silent, or is slow. */
async function onABadLine(): Promise<Trouble[]> {
  const databases = await openDatabases('postgresql');
  const troubles: Trouble[] = [];
  for (const [name, how, reads, writes] of [
    ['PostgreSQL, connection lost', 'lost', [503], [503]],
    ['PostgreSQL, line silent', 'silent', [503], [503]],
    ['PostgreSQL, 150 ms slow each way', 150, [200], [201]],
  ] as const) {
    const databaseUrl = await databases.fresh();
    const direct = new URL(databaseUrl);
    const proxy = await openProxy(Number(direct.port));
    direct.port = String(proxy.port);
    try {
      const behave = { begin: () => proxy.behave(how), end: () => proxy.behave('through') };
      troubles.push(await through({ name, databaseUrl, throughUrl: direct.href, ...behave, reads, writes }));
    } finally {
      await proxy.close();
    }
  }
  troubles.push(await asAStandby(await databases.fresh()));
  await databases.close();
  return troubles;
}

/** A PostgreSQL that takes no changes, as a standby after a failover does, until it is promoted. */
function asAStandby(databaseUrl: string): Promise<Trouble> {
  const name = new URL(databaseUrl).pathname.slice(1);
  const set = async (onOrOff: 'on' | 'off') => {
    const client = new pg.Client({ connectionString: databaseUrl });
    await client.connect();
    await client.query('SET default_transaction_read_only = off');
    await client.query(`ALTER DATABASE ${name} SET default_transaction_read_only = ${onOrOff}`);
    await client.query(
      'SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = $1 AND pid <> pg_backend_pid()',
      [name],
    );
    await client.end();
  };
  const behave = { begin: () => set('on'), end: () => set('off') };
  return through({ name: 'PostgreSQL, read-only', databaseUrl, ...behave, reads: [200, 503], writes: [503] });
}

export async function allTroubles(): Promise<Trouble[]> {
  return [...(await onADisk(filled)), ...(await onADisk(readOnlyAtTheStart)), ...(await onABadLine())];
}
