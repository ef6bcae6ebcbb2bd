/** Lets callers of one key in one after the other, in the order they came; keys do not wait for each other. */
export class Turns {
  readonly #last = new Map<string, Promise<unknown>>();

  async take<T>(key: string, work: () => Promise<T>): Promise<T> {
    const before = this.#last.get(key) ?? Promise.resolve();
    const mine = before.then(work, work);
    const settled = mine.catch(() => {});
    this.#last.set(key, settled);
    try {
      return await mine;
    } finally {
      if (this.#last.get(key) === settled) this.#last.delete(key);
    }
  }
}
