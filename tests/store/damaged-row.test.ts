import { expect, it } from 'vitest';
import { connectPostgresql } from '../../src/store/connection/postgresql.ts';
import { connectSqlite } from '../../src/store/connection/sqlite.ts';
import { InvalidDocument } from '../../src/store/store.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aPlace, placeId, stockedShop } from './samples.ts';

onEachDatabase('a row that something else has damaged', (given) => {
  it('is told by kind, shop, id and field, and does not pass for a document', async () => {
    const { provider, databaseUrl, store } = given();
    const shopId = await stockedShop(store);
    const connection = provider === 'sqlite' ? connectSqlite(databaseUrl) : connectPostgresql(databaseUrl);
    const write = (document: string) =>
      connection.client.$transaction((transaction) =>
        transaction.place.updateMany({ where: { shopId, id: 'bay1' }, data: { document } }),
      );
    await write(JSON.stringify({ ...aPlace('bay1'), turnaroundMinutes: 'long' }));
    const reading = store.places.get(shopId, placeId('bay1'));
    await expect(reading).rejects.toBeInstanceOf(InvalidDocument);
    await expect(reading).rejects.toMatchObject({
      row: `place ${shopId}/bay1`,
      problems: [{ field: 'turnaroundMinutes' }],
    });
    await write('{"half": ');
    await expect(store.places.list(shopId)).rejects.toThrow(`place ${shopId}/bay1: (whole) is not JSON`);
    await connection.close();
  });
});
