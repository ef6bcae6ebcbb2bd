import type { OutboxEvent } from '../contract/outbox.ts';
import type { Written } from '../contract/written.ts';
import type { AuditEntryModel } from '../generated/sqlite/models.ts';

/** What one transaction gathers while it runs: some of it is written at its end in one go, some done once it is committed. */
export class Gathered {
  /** Whether the shop whose lock it has was there when it began. */
  readonly shopIsThere: boolean;
  readonly written: Written[] = [];
  /** Shops of which there is news. */
  readonly grown = new Set<string>();
  /** Done once the transaction has been committed, and never when it has not. */
  readonly afterwards: (() => void)[] = [];
  #trail: AuditEntryModel[] = [];
  #news = new Map<string, OutboxEvent[]>();

  constructor(shopIsThere: boolean) {
    this.shopIsThere = shopIsThere;
  }

  note(entry: AuditEntryModel): void {
    this.#trail.push(entry);
  }

  tell(shopId: string, event: OutboxEvent): void {
    this.grown.add(shopId);
    const told = this.#news.get(shopId);
    if (told === undefined) this.#news.set(shopId, [event]);
    else told.push(event);
  }

  /** What is to be written, by shop and in order; it is gathered no more. */
  take(): { readonly trail: AuditEntryModel[]; readonly news: ReadonlyMap<string, readonly OutboxEvent[]> } {
    const taken = { trail: this.#trail, news: this.#news };
    this.#trail = [];
    this.#news = new Map();
    return taken;
  }
}
