import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, stat, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate as letOthersRun } from 'node:timers/promises';
import { gunzipSync, gzipSync } from 'node:zlib';
import { createClient } from '@libsql/client';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { restoreBackup } from '../../../src/store/backup/restore-backup.ts';
import { writeBackup } from '../../../src/store/backup/write-backup.ts';
import { migrate } from '../../../src/store/migration/migrate.ts';
import { readMigrations } from '../../../src/store/migration/migrations.ts';
import { openStore } from '../../../src/store/open-store.ts';
import type { Provider } from '../../../src/store/provider.ts';
import type { Store } from '../../../src/store/store.ts';
import type { AccountId, ShopId } from '../../../src/trade/model/ids.ts';
import { type FreshDatabase, freshDatabase, isAvailable, PROVIDERS } from '../fresh-database.ts';
import { aJob, at, jobId, placeId, stockedShop } from '../samples.ts';
import { everyRow } from './every-row.ts';

const now = new Date(Date.UTC(2026, 2, 2));
const OTHER: Record<Provider, Provider> = { sqlite: 'postgresql', postgresql: 'sqlite' };
let folder: string;
const opened: { dispose(): Promise<void> }[] = [];
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'panelday-backup-'));
});
afterAll(async () => {
  for (const each of opened.toReversed()) await each.dispose();
  await rm(folder, { recursive: true, force: true });
});

async function fresh(provider: Provider): Promise<FreshDatabase> {
  const database = await freshDatabase(provider);
  opened.push(database);
  return database;
}

/** A store with something in every kind of column: text in other scripts, bytes, flags, numbers past 32 bits, nothing. */
async function filled(databaseUrl: string): Promise<{ store: Store; shopId: ShopId }> {
  await migrate({ databaseUrl });
  const store = await openStore({ databaseUrl, clock: () => at(1) });
  opened.push({ dispose: () => store.close() });
  const shopId = await stockedShop(store);
  await store.jobs.put(shopId, aJob('j9', { notes: 'Zoë “quoted” \u{1F697}\n\\ \u0001 line', state: 'done' }), 'new');
  const fact = { kind: 'noted' as const, operation: null, text: 'tab\tand 漆' };
  const times = { occurredAt: at(2), recordedAt: at(2) };
  await store.floorEvents.append(shopId, { jobId: jobId('j9'), clientId: 'tablet-0001', ...times, fact });
  const hold = { placeId: placeId('bay1'), from: at(10), to: at(12), owner: 'somebody', expiresAt: at(20) };
  await store.holds.take(shopId, [hold], at(1));
  const photo = { operation: null, panel: null, note: '', takenAt: at(2), recordedAt: at(2), sha256: 'a'.repeat(64) };
  const bytes = Uint8Array.from({ length: 70_000 }, (_, n) => (n * 7) % 256);
  await store.photos.add(
    shopId,
    {
      id: 'p1' as never,
      jobId: jobId('j9'),
      clientId: 'tablet-0002',
      type: 'image/png',
      bytes: bytes.length,
      ...photo,
    },
    bytes,
  );
  await store.accounts.put(
    {
      id: 'a1' as AccountId,
      signInName: `ann ${shopId}`,
      name: 'Ann Invented',
      passwordHash: null,
      administrator: true,
      disabled: false,
      roles: [{ shopId, role: 'owner', technicianId: null, pinHash: null }],
    },
    'new',
  );
  await store.outbox.append(shopId, { kind: 'job.changed', subject: 'j9', at: at(3), body: { n: 1 } });
  return { store, shopId };
}

/** The lines of a backup, changed and sealed anew. */
async function rewritten(path: string, change: (lines: string[]) => string[], seal = true): Promise<string> {
  const lines = gunzipSync(await readFile(path))
    .toString('utf8')
    .trimEnd()
    .split('\n');
  const footer = JSON.parse(lines.pop()!);
  const body = `${change(lines).join('\n')}\n`;
  if (seal) footer.sha256 = createHash('sha256').update(body).digest('hex');
  const changed = `${path}.changed`;
  await writeFile(changed, gzipSync(`${body}${JSON.stringify(footer)}\n`));
  return changed;
}

for (const provider of PROVIDERS) {
  describe.skipIf(!isAvailable(provider))(`a backup (${provider})`, () => {
    let source: FreshDatabase;
    let store: Store;
    let shopId: ShopId;
    let path: string;
    beforeAll(async () => {
      source = await fresh(provider);
      ({ store, shopId } = await filled(source.databaseUrl));
      path = join(folder, `${provider}.backup`);
      await writeBackup({ databaseUrl: source.databaseUrl, path, now });
    });

    test('is for its owner alone, and under its name there is never half of one', async () => {
      expect((await stat(path)).mode & 0o777).toBe(0o600);
      expect((await readdir(folder)).filter((name) => name.endsWith('.part'))).toEqual([]);
    });

    for (const target of [provider, OTHER[provider]]) {
      test.skipIf(!isAvailable(target))(
        `restored into a new database (${target}) makes every table what it was`,
        async () => {
          const database = await fresh(target);
          const { tables } = await restoreBackup({ databaseUrl: database.databaseUrl, path, replace: false });
          const [was, is] = [
            await everyRow(provider, source.databaseUrl),
            await everyRow(target, database.databaseUrl),
          ];
          expect(Object.keys(is)).toEqual(Object.keys(was));
          for (const [name, rows] of Object.entries(was)) expect(is[name], name).toEqual(rows);
          expect(tables.reduce((sum, { rows }) => sum + rows, 0)).toBe(Object.values(was).flat().length);
          const full = Object.entries(was).filter(([, rows]) => rows.length > 0);
          expect(full.map(([name]) => name)).toEqual(
            expect.arrayContaining(['Account', 'AuditEntry', 'FloorEvent', 'Job', 'Occupancy', 'PhotoBytes', 'Shop']),
          );
          // And a store works on it, with the databases' own fences up.
          const restored = await openStore({ databaseUrl: database.databaseUrl });
          opened.push({ dispose: () => restored.close() });
          expect(await restored.jobs.get(shopId, jobId('j9'))).toEqual(await store.jobs.get(shopId, jobId('j9')));
          const hold = { placeId: placeId('bay1'), from: at(11), to: at(13), owner: 'another', expiresAt: at(20) };
          await expect(restored.holds.take(shopId, [hold], at(1))).rejects.toThrow('taken twice');
        },
      );
    }

    test('is not restored over a database that holds something, unless told to empty it', async () => {
      const database = await fresh(provider);
      const { store: theirs } = await filled(database.databaseUrl);
      await theirs.jobs.put((await theirs.shops.list())[0]!.value.id, aJob('theirs'), 'new');
      const before = await everyRow(provider, database.databaseUrl);
      const { databaseUrl } = database;
      await expect(restoreBackup({ databaseUrl, path, replace: false })).rejects.toThrow('holds something already');
      expect(await everyRow(provider, databaseUrl)).toEqual(before);
      await restoreBackup({ databaseUrl, path, replace: true });
      expect(await everyRow(provider, databaseUrl)).toEqual(await everyRow(provider, source.databaseUrl));
    });

    test('that is cut off, changed, or lies about its tables changes nothing', async () => {
      const { databaseUrl } = await fresh(provider);
      await migrate({ databaseUrl });
      const empty = await everyRow(provider, databaseUrl);
      const restore = (from: string) => restoreBackup({ databaseUrl, path: from, replace: true });
      const cut = `${path}.cut`;
      await writeFile(cut, await readFile(path));
      await truncate(cut, (await stat(path)).size - 100);
      await expect(restore(cut)).rejects.toThrow('cannot be used');
      await expect(restore(join(folder, 'nothing'))).rejects.toThrow('ENOENT');
      const job = (lines: string[]) => lines.findIndex((line) => line.includes('quoted'));
      const touched = (lines: string[]) => lines.with(job(lines), lines[job(lines)]!.replace('quoted', 'forged'));
      await expect(restore(await rewritten(path, touched, false))).rejects.toThrow('its contents were changed');
      await expect(restore(await rewritten(path, touched))).rejects.toThrow(
        /table (Job|AuditEntry) is not what the backup holds/,
      );
      const lost = (lines: string[]) => lines.toSpliced(job(lines), 1);
      await expect(restore(await rewritten(path, lost))).rejects.toThrow();
      const renamed = (lines: string[]) => lines.with(0, lines[0]!.replace('"Job"', '"Jobs"'));
      await expect(restore(await rewritten(path, renamed))).rejects.toThrow('tables are not those');
      expect(await everyRow(provider, databaseUrl)).toEqual(empty);
    });

    test('of a newer release is refused, and one of an older release is brought up to date', async () => {
      const { databaseUrl } = await fresh(provider);
      const newer = (lines: string[]) => {
        const header = JSON.parse(lines[0]!);
        header.migrations.push('29990101000000_later');
        return lines.with(0, JSON.stringify(header));
      };
      const later = await rewritten(path, newer);
      await expect(restoreBackup({ databaseUrl, path: later, replace: false })).rejects.toThrow('another release');

      const old = await freshDatabase('sqlite');
      opened.push(old);
      await migrate({ databaseUrl: old.databaseUrl, upTo: 1 });
      const client = createClient({ url: old.databaseUrl });
      await client.execute(
        `INSERT INTO "Shop" ("id", "version", "updatedAt", "document") VALUES ('old', 3, 1772400000000, '{}')`,
      );
      client.close();
      const oldPath = join(folder, `${provider}.old`);
      await writeBackup({ databaseUrl: old.databaseUrl, path: oldPath, now });
      const upgraded = await fresh(provider);
      await restoreBackup({ databaseUrl: upgraded.databaseUrl, path: oldPath, replace: false });
      const tables = await everyRow(provider, upgraded.databaseUrl);
      expect(tables.Shop).toHaveLength(1);
      expect(tables.Shop![0]).toContain('["version",3]');
      expect(Object.keys(tables)).toEqual(Object.keys(await everyRow(provider, source.databaseUrl)));
      expect((await readMigrations(provider)).migrationDirectories.length).toBeGreaterThan(1);
    });

    test('made while others write is of one moment', async () => {
      const { databaseUrl } = await fresh(provider);
      const { store: busy, shopId: shop } = await filled(databaseUrl);
      let writing = true;
      const writer = (async () => {
        for (let n = 0; writing && n < 20_000; n += 1) {
          // One transaction: the event and the number that counts it.
          await letOthersRun();
          await busy.outbox.append(shop, { kind: 'job.changed', subject: `n${n}`, at: at(3), body: null });
        }
        return busy.outbox.lastSequence(shop);
      })();
      const counts: number[] = [];
      try {
        for (let n = 0; n < 5; n += 1) {
          const from = join(folder, `${provider}.${n}`);
          await writeBackup({ databaseUrl, path: from, now });
          const lines = gunzipSync(await readFile(from))
            .toString('utf8')
            .split('\n');
          const { tables } = JSON.parse(lines[0]!) as { tables: { name: string; columns: { name: string }[] }[] };
          const [ofShop, ofEvent] = ['Shop', 'OutboxEvent'].map((name) =>
            tables.findIndex((each) => each.name === name),
          );
          const column = tables[ofShop!]!.columns.findIndex(({ name }) => name === 'outboxSequence');
          const shopLine = JSON.parse(lines.find((line) => line.startsWith(`[${ofShop},`))!);
          const events = lines.filter((line) => line.startsWith(`[${ofEvent},`)).length;
          expect(events).toBe(shopLine[1][column]);
          counts.push(events);
        }
      } finally {
        writing = false;
      }
      expect(await writer).toBeGreaterThan(counts[0]!);
    });
  });
}
