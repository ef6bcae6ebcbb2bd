import { Permission } from '../../../src/shop/access/permission.ts';
import { hashOfSecret } from '../../../src/shop/access/secret.ts';
import { putShopData } from '../../../src/shop/demo/put-shop-data.ts';
import { openStore } from '../../../src/store/open-store.ts';
import type { ApiToken, Store } from '../../../src/store/store.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { type ShopId, TokenId } from '../../../src/trade/model/ids.ts';
import { Instant } from '../../../src/trade/model/time.ts';
import { benchTokenOf } from './client.ts';

/**
 * Writes a book that nobody has planned into a server's database, through the store and from this process: the server
 * hears nothing of it until it is asked for a plan.
 */
export async function putBook(databaseUrl: string, book: Book): Promise<void> {
  const store = await openStore({ databaseUrl });
  try {
    await putBookIn(store, book);
  } finally {
    await store.close();
  }
}

/** As `putBook`, through a store that is open. */
export function putBookIn(store: Store, book: Book): Promise<void> {
  return store.transaction(book.shop.id, async (records) => {
    await putShopData(records, book);
    for (const job of book.jobs) await records.jobs.put(book.shop.id, job, 'new');
    await records.apiTokens.add(tokenOf(book.shop.id));
  });
}

/** The bench's own token, which may do everything in its shop. */
function tokenOf(shopId: ShopId): ApiToken {
  return {
    shopId,
    id: TokenId.parse('bench'),
    name: 'bench',
    secretHash: hashOfSecret(benchTokenOf(shopId)),
    scopes: Permission.options,
    createdAt: Instant.parse(0),
    createdBy: 'bench',
    expiresAt: null,
  };
}
