import type { OutboxEvent } from '../contract/outbox.ts';
import type { Written } from '../contract/written.ts';
import type { AuditEntryModel } from '../generated/sqlite/models.ts';

/** What one transaction gathers while it runs: some of it is written at its end in one go, some done once it is committed. */
export class Gathered {
  /** Whether the shop whose lock it has was there when it began. */
  readonly shopIsThere: boolean;
  readonly written: Written[] = [];
  readonly trail: AuditEntryModel[] = [];
  /** By shop, in order. */
  readonly news = new Map<string, OutboxEvent[]>();
  /** Done once the transaction has been committed, and never when it has not. */
  readonly afterwards: (() => void)[] = [];

  constructor(shopIsThere: boolean) {
    this.shopIsThere = shopIsThere;
  }

  tell(shopId: string, event: OutboxEvent): void {
    const told = this.news.get(shopId);
    if (told === undefined) this.news.set(shopId, [event]);
    else told.push(event);
  }
}
