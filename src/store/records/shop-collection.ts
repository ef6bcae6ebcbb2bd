import type { ShopId } from '../../trade/model/ids.ts';
import { Shop } from '../../trade/model/shop.ts';
import { Instant } from '../../trade/model/time.ts';
import { firstCount } from '../connection/change-count.ts';
import type { Expected, Shops, Versioned } from '../contract/collection.ts';
import { NotFound, StaleVersion, StillReferenced } from '../contract/errors.ts';
import { noteChange } from './audit-trail.ts';
import { checkDocument } from './document.ts';
import { type DocumentRow, nextVersion } from './document-collection.ts';
import { rememberedDocument } from './remembered-documents.ts';
import type { Session } from './session.ts';
import { type TableName, tableOf } from './table.ts';

/** What a shop must be rid of before it is deleted; plans and outbox go with it. */
const CONTENTS: readonly TableName[] = ['job', 'recipe', 'coating', 'technician', 'equipment', 'place', 'airZone'];

/** Shops as documents. */
export class ShopCollection implements Shops {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async list(): Promise<Versioned<Shop>[]> {
    const rows = await this.#session.reader.shop.findMany();
    return rows.map(read).sort((a, b) => (a.value.id < b.value.id ? -1 : 1));
  }

  async get(shopId: ShopId): Promise<Versioned<Shop> | null> {
    const row = await this.#session.reader.shop.findUnique({ where: { id: shopId } });
    return row === null ? null : read(row);
  }

  async put(shop: Shop, expected: Expected): Promise<Versioned<Shop>> {
    const checked = checkDocument(Shop, shop, `shop ${shop.id}`);
    const { id } = checked;
    return this.#session.write(id, { what: 'anything' }, async (transaction) => {
      const old = await transaction.shop.findUnique({ where: { id } });
      const version = nextVersion('shop', id, old?.version ?? null, expected);
      const updatedAt = this.#session.now();
      const data = { version, updatedAt: BigInt(updatedAt), document: JSON.stringify(checked) };
      if (old === null) await transaction.shop.create({ data: { id, changes: firstCount(), ...data } });
      else await transaction.shop.updateMany({ where: { id }, data });
      const change = { shopId: id, kind: 'shop', subject: id, before: old?.document ?? null, after: data.document };
      noteChange(this.#session, transaction, change);
      return { value: checked, version, updatedAt: Instant.parse(updatedAt) };
    });
  }

  async delete(shopId: ShopId, expected: number | 'any'): Promise<void> {
    await this.#session.write(shopId, { what: 'anything' }, async (transaction) => {
      const old = await transaction.shop.findUnique({ where: { id: shopId } });
      if (old === null) throw new NotFound('shop', shopId);
      if (expected !== 'any' && old.version !== expected) throw new StaleVersion('shop', shopId, expected, old.version);
      const by: string[] = [];
      for (const table of CONTENTS) {
        if (await tableOf(transaction, table).findFirst({ where: { shopId } })) by.push(table);
      }
      if (by.length > 0) throw new StillReferenced('shop', shopId, by);
      await transaction.shop.deleteMany({ where: { id: shopId } });
    });
  }
}

function read(row: DocumentRow): Versioned<Shop> {
  return {
    value: rememberedDocument(Shop, row.document, `shop ${row.id}`),
    version: row.version,
    updatedAt: Instant.parse(Number(row.updatedAt)),
  };
}
