import type { Versioned } from '../contract/collection.ts';

/** Documents remembered before the longest unasked is forgotten; a job takes some ten kilobytes. */
const MOST = 4_000;

/** A document as a list of its table tells it, without its text. */
export interface Head {
  readonly id: string;
  readonly version: number;
  readonly updatedAt: number;
}

/**
 * Documents of one store as they were last read. A list then reads which versions there are and the text of those only that
 * changed since, in this process or another: exact, and for two hundred jobs a twentieth of the cost. Only what was
 * committed is remembered. A document that was deleted elsewhere and made anew is told from the old one by its date.
 */
export class DocumentMemory {
  /** By table, shop and id; the longest unasked first. */
  readonly #documents = new Map<string, Versioned<unknown>>();

  /** The documents of these heads in their order; `read` gets what is not known at its version. Those gone meanwhile are left out. */
  async resolve<T extends { readonly id: string }>(
    table: string,
    shopId: string,
    heads: readonly Head[],
    read: (ids: string[]) => Promise<Versioned<T>[]>,
  ): Promise<Versioned<T>[]> {
    const found = new Map<string, Versioned<T>>();
    const missing: string[] = [];
    for (const { id, version, updatedAt } of heads) {
      const key = `${table} ${shopId} ${id}`;
      const known = this.#documents.get(key) as Versioned<T> | undefined;
      if (known === undefined || known.version !== version || known.updatedAt !== updatedAt) {
        missing.push(id);
        continue;
      }
      this.#documents.delete(key);
      this.#documents.set(key, known);
      found.set(id, known);
    }
    for (const each of missing.length === 0 ? [] : await read(missing)) {
      found.set(each.value.id, each);
      this.#documents.set(`${table} ${shopId} ${each.value.id}`, each);
    }
    for (const key of this.#documents.keys()) {
      if (this.#documents.size <= MOST) break;
      this.#documents.delete(key);
    }
    return heads.flatMap(({ id }) => found.get(id) ?? []);
  }

  /** A document that was deleted here. */
  forget(table: string, shopId: string, id: string): void {
    this.#documents.delete(`${table} ${shopId} ${id}`);
  }
}
