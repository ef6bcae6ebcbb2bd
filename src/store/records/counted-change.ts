import type { Written } from '../contract/written.ts';
import type { OwnChanges } from './own-changes.ts';

/** One attempt to commit a change of a shop, as `OwnChanges` is told of it. */
export class CountedChange {
  readonly #own: OwnChanges;
  readonly #shopId: string;
  #count: number | null = null;
  #settle: () => void = () => {};

  constructor(own: OwnChanges, shopId: string) {
    this.#own = own;
    this.#shopId = shopId;
  }

  committing(count: number): void {
    this.#count = count;
    const settled = new Promise<void>((resolve) => {
      this.#settle = resolve;
    });
    this.#own.committing(this.#shopId, count, settled);
  }

  committed(written: readonly Written[]): void {
    if (this.#count === null) return;
    this.#own.committed(this.#shopId, this.#count, written);
    this.#count = null;
    this.#settle();
  }

  failedUnlessCommitted(): void {
    if (this.#count === null) return;
    this.#own.failed(this.#shopId, this.#count);
    this.#count = null;
    this.#settle();
  }
}
