import { putShopData } from '../../../src/shop/demo/put-shop-data.ts';
import { openStore } from '../../../src/store/open-store.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';

/**
 * Writes a book that nobody has planned into a server's database, through the store and from this process: the server
 * hears nothing of it until it is asked for a plan.
 */
export async function putBook(databaseUrl: string, book: Book): Promise<void> {
  const store = await openStore({ databaseUrl });
  try {
    await store.transaction(book.shop.id, async (records) => {
      await putShopData(records, book);
      for (const job of book.jobs) await records.jobs.put(book.shop.id, job, 'new');
    });
  } finally {
    await store.close();
  }
}
