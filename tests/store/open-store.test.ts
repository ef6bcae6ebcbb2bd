import { expect, it } from 'vitest';
import { migrate } from '../../src/store/migration/migrate.ts';
import { openStore } from '../../src/store/open-store.ts';
import { providerOf } from '../../src/store/provider.ts';
import { freshDatabase, isAvailable, onEachDatabase } from './fresh-database.ts';

onEachDatabase('an open store', (given) => {
  it('answers a ping', async () => {
    await expect(given().store.ping()).resolves.toBeUndefined();
  });
});

it('the database is known by its URL', () => {
  expect(providerOf('file:./data/panelday.db')).toBe('sqlite');
  expect(providerOf('postgres://a@b/c')).toBe('postgresql');
  expect(providerOf('postgresql://a@b/c')).toBe('postgresql');
  expect(() => providerOf('mysql://a@b/c')).toThrow('databaseUrl must begin with');
});

it.skipIf(!isAvailable('postgresql'))('a server that is gone fails the ping, not the process', async () => {
  const { databaseUrl, dispose } = await freshDatabase('postgresql');

  await migrate({ databaseUrl });
  const warnings: string[] = [];
  const store = await openStore({ databaseUrl, logger: { warn: (_, message) => warnings.push(message) } });
  await store.ping();
  await dispose();
  await expect(store.ping()).rejects.toThrow();
  await store.close();
});
