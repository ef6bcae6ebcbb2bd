import { randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, inject } from 'vitest';
import { migrate } from '../../src/store/migration/migrate.ts';
import { openStore } from '../../src/store/open-store.ts';
import type { Provider } from '../../src/store/provider.ts';
import type { Store } from '../../src/store/store.ts';

export const PROVIDERS: readonly Provider[] = ['sqlite', 'postgresql'];

export interface FreshDatabase {
  readonly databaseUrl: string;
  dispose(): Promise<void>;
}

export function isAvailable(provider: Provider): boolean {
  return provider === 'sqlite' || inject('postgresServer') !== null;
}

/** An empty database, not migrated. */
export async function freshDatabase(provider: Provider): Promise<FreshDatabase> {
  if (provider === 'sqlite') {
    const folder = await mkdtemp(join(tmpdir(), 'panelday-sqlite-'));
    return {
      databaseUrl: `file:${join(folder, 'panelday.db')}`,
      dispose: () => rm(folder, { recursive: true, force: true }),
    };
  }
  const server = inject('postgresServer')!;
  const name = `test_${randomUUID().replaceAll('-', '')}`;
  await onServer(server, `CREATE DATABASE ${name}`);
  return {
    databaseUrl: `${server}/${name}`,
    dispose: () => onServer(server, `DROP DATABASE ${name} WITH (FORCE)`),
  };
}

async function onServer(server: string, sql: string): Promise<void> {
  const client = new pg.Client({ connectionString: `${server}/postgres` });
  await client.connect();
  await client.query(sql);
  await client.end();
}

/** Instant that stored documents are dated with. */
export const STORED_AT = Date.UTC(2026, 2, 2, 8);

export interface Given {
  readonly provider: Provider;
  readonly databaseUrl: string;
  readonly store: Store;
  /** Another store on the same database, as another process has it. Closed with the rest. */
  another(): Promise<Store>;
}

/** The same statements about SQLite and PostgreSQL, each on a migrated database of its own. */
export function onEachDatabase(subject: string, statements: (given: () => Given) => void): void {
  for (const provider of PROVIDERS) {
    describe.skipIf(!isAvailable(provider))(`${subject} (${provider})`, () => {
      let database: FreshDatabase;
      const stores: Store[] = [];
      const open = async () => {
        const store = await openStore({ databaseUrl: database.databaseUrl, clock: () => STORED_AT });
        stores.push(store);
        return store;
      };
      let given: Given;
      beforeAll(async () => {
        database = await freshDatabase(provider);
        await migrate({ databaseUrl: database.databaseUrl });
        given = { provider, databaseUrl: database.databaseUrl, store: await open(), another: open };
      });
      afterAll(async () => {
        for (const store of stores) await store.close();
        await database.dispose();
      });
      statements(() => given);
    });
  }
}
