import type { ShopId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import type { Queries } from '../connection/connection.ts';
import { gatherColumns } from '../connection/many-rows.ts';
import type { Collection, Expected, Versioned } from '../contract/collection.ts';
import { AlreadyExists, NotFound, StaleVersion, StillReferenced } from '../contract/errors.ts';
import type { Written } from '../contract/written.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import { type Change, noteChange } from './audit-trail.ts';
import { checkDocument } from './document.ts';
import type { DocumentKind } from './document-kind.ts';
import { DocumentMemory, type Head } from './document-memory.ts';
import { checkReferences, checkShop, type Reference } from './reference.ts';
import { rememberedDocument } from './remembered-documents.ts';
import type { Session } from './session.ts';
import { tableOf } from './table.ts';

export interface DocumentRow {
  readonly id: string;
  readonly version: number;
  readonly updatedAt: bigint;
  readonly document: string;
}

/** Documents of one kind in one table. */
export class DocumentCollection<Id extends string, T extends { id: Id }> implements Collection<Id, T> {
  readonly #session: Session;
  readonly #kind: DocumentKind<T>;

  constructor(session: Session, kind: DocumentKind<T>) {
    this.#session = session;
    this.#kind = kind;
  }

  async list(shopId: ShopId): Promise<Versioned<T>[]> {
    return (await this.listWhere(shopId)).sort((a, b) => (a.value.id < b.value.id ? -1 : 1));
  }

  /** All that fit a condition of constants, in no order. */
  async listWhere(shopId: ShopId, condition = 'true'): Promise<Versioned<T>[]> {
    const { reader, provider } = this.#session;
    const table = this.#kind.table;
    const heads = await gatherColumns(
      reader,
      provider,
      `"${table[0]!.toUpperCase()}${table.slice(1)}"`,
      ['"id"', '"version"', '"updatedAt"'],
      `"shopId" = $1 AND ${condition}`,
      [shopId],
    );
    return this.resolve(
      shopId,
      heads.map(([id, version, updatedAt]) => ({ id, version, updatedAt }) as Head),
    );
  }

  /** The documents of rows of which only this is known, in their order. */
  async resolve(shopId: ShopId, heads: readonly Head[]): Promise<Versioned<T>[]> {
    const read = async (ids: string[]) => {
      const rows = await this.#table(this.#session.reader).findMany({ where: { shopId, id: { in: ids } } });
      return rows.map((row) => this.read(shopId, row as unknown as DocumentRow));
    };
    // What a transaction sees may never be committed, and another may give the same version to something else.
    const memory = this.#session.committed ? this.#session.documents : new DocumentMemory();
    return memory.resolve(this.#kind.table, shopId, heads, read);
  }

  async get(shopId: ShopId, id: Id): Promise<Versioned<T> | null> {
    const row = await this.#row(this.#session.reader, shopId, id);
    return row === null ? null : this.read(shopId, row);
  }

  async known(shopId: ShopId, ids: readonly Id[]): Promise<ReadonlySet<Id>> {
    if (ids.length === 0) return new Set();
    const where = { shopId, id: { in: [...ids] } };
    const rows = await this.#table(this.#session.reader).findMany({ where, select: { id: true } });
    return new Set(rows.map((row) => row.id as Id));
  }

  async put(shopId: ShopId, value: T, expected: Expected): Promise<Versioned<T>> {
    const { table, links } = this.#kind;
    const checked = checkDocument(this.#kind.model, value, `${table} ${shopId}/${value.id}`);
    return this.#session.write(shopId, this.#written(checked.id), async (transaction) => {
      const old = await this.#row(transaction, shopId, checked.id);
      const version = nextVersion(table, checked.id, old?.version ?? null, expected);
      if (old === null && !this.#session.gathered(transaction).shopIsThere) await checkShop(transaction, shopId);
      await checkReferences(transaction, shopId, this.#newReferences(shopId, checked, old));
      const updatedAt = this.#session.now();
      const data = {
        version,
        updatedAt: BigInt(updatedAt),
        document: JSON.stringify(checked),
        ...this.#kind.columns(checked),
      };
      if (old === null) await this.#table(transaction).create({ data: { shopId, id: checked.id, ...data } });
      else await this.#table(transaction).updateMany({ where: { shopId, id: checked.id }, data });
      if (links) {
        const owner = { shopId, [links.ownerColumn]: checked.id };
        await tableOf(transaction, links.table).deleteMany({ where: owner });
        const rows = links.rows(checked).map((row) => ({ ...owner, ...row }));
        if (rows.length > 0) await tableOf(transaction, links.table).createMany({ data: rows });
      }
      const before = old?.document ?? null;
      this.#note(transaction, { shopId, subject: checked.id, before, after: data.document });
      const stored = this.#kind.withVersion?.(checked, version) ?? checked;
      return { value: stored, version, updatedAt: Instant.parse(updatedAt) };
    });
  }

  async delete(shopId: ShopId, id: Id, expected: number | 'any'): Promise<void> {
    const { table, referencedBy } = this.#kind;
    await this.#session.write(shopId, this.#written(id), async (transaction) => {
      const old = await this.#row(transaction, shopId, id);
      if (old === null) throw new NotFound(table, id);
      if (expected !== 'any' && old.version !== expected) throw new StaleVersion(table, id, expected, old.version);
      const by = new Set<string>();
      for (const reference of referencedBy) {
        const where = { shopId, ...reference.where(id) };
        if (await tableOf(transaction, reference.table).findFirst({ where })) by.add(reference.by);
      }
      if (by.size > 0) throw new StillReferenced(table, id, [...by]);
      await this.#table(transaction).deleteMany({ where: { shopId, id } });
      this.#note(transaction, { shopId, subject: id, before: old.document, after: null });
      this.#session.gathered(transaction).afterwards.push(() => this.#session.documents.forget(table, shopId, id));
    });
  }

  /** A row as the versioned document it holds. @throws InvalidDocument naming the row */
  read(shopId: ShopId, row: DocumentRow): Versioned<T> {
    const { model, table, withVersion } = this.#kind;
    const value = rememberedDocument(model, row.document, `${table} ${shopId}/${row.id}`);
    return {
      value: withVersion?.(value, row.version) ?? value,
      version: row.version,
      updatedAt: Instant.parse(Number(row.updatedAt)),
    };
  }

  #written(id: Id): Written {
    return this.#kind.written?.(id) ?? { what: 'anything' };
  }

  /** Those that the document did not have before: what it points to cannot go while it does. */
  #newReferences(shopId: ShopId, value: T, old: DocumentRow | null): Reference[] {
    const references = this.#kind.references(value);
    if (old === null || references.length === 0) return references;
    const before = new Set(
      this.#kind.references(this.read(shopId, old).value).map(({ table, id }) => `${table} ${id}`),
    );
    return references.filter(({ table, id }) => !before.has(`${table} ${id}`));
  }

  #note(transaction: Prisma.TransactionClient, change: Omit<Change, 'kind'>): void {
    noteChange(this.#session, transaction, { kind: this.#kind.table, ...change });
  }

  #table(queries: Queries) {
    return tableOf(queries, this.#kind.table);
  }

  async #row(queries: Queries, shopId: ShopId, id: Id): Promise<DocumentRow | null> {
    return (await this.#table(queries).findUnique({ where: { shopId_id: { shopId, id } } })) as DocumentRow | null;
  }
}

/** The version a write makes. @throws AlreadyExists, NotFound, StaleVersion when it expected something else */
export function nextVersion(kind: string, id: string, actual: number | null, expected: Expected): number {
  if (actual === null) {
    if (typeof expected === 'number') throw new NotFound(kind, id);
    return 1;
  }
  if (expected === 'new') throw new AlreadyExists(kind, id);
  if (expected !== 'any' && expected !== actual) throw new StaleVersion(kind, id, expected, actual);
  return actual + 1;
}
