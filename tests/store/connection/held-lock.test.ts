import { expect, it } from 'vitest';
import { keptConnection } from '../../../src/store/connection/kept-connection.ts';
import { connectSqlite } from '../../../src/store/connection/sqlite.ts';
import { migrate } from '../../../src/store/migration/migrate.ts';
import { freshDatabase } from '../fresh-database.ts';

it('a write that another process holds up for more than five seconds has lost a race, and the next one goes through', async () => {
  const { databaseUrl, dispose } = await freshDatabase('sqlite');
  await migrate({ databaseUrl });
  const connection = connectSqlite(databaseUrl);
  const other = keptConnection({ url: databaseUrl }, 'write');
  await other.begin('SELECT 1');
  const write = () =>
    connection.client.$transaction(async (transaction) => {
      await transaction.$executeRaw`DELETE FROM "Shop" WHERE "id" = 'none'`;
      await transaction.$executeRaw`DELETE FROM "Shop" WHERE "id" = 'nobody'`;
    });
  const refusal = await write().catch((error) => error);
  expect(connection.lostRace(refusal)).toBe(true);
  await other.execute('ROLLBACK');
  await write();
  await other.close();
  await connection.close();
  await dispose();
}, 20_000);

it('a transaction that asks nothing is none', async () => {
  const { databaseUrl, dispose } = await freshDatabase('sqlite');
  await migrate({ databaseUrl });
  const connection = connectSqlite(databaseUrl);
  expect(await connection.client.$transaction(async () => 'nothing')).toBe('nothing');
  await connection.close();
  await dispose();
});
