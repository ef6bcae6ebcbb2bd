/** Lists of entries, one list a node, in the order they were added: entry k belongs to the node it was added for. They grow while they are read. */
export class Chains {
  /** By node, its first entry; -1 when it has none. */
  readonly first: Int32Array;
  /** By entry, the next one of the same node; -1 after the last. */
  readonly next: number[] = [];
  readonly #last: Int32Array;

  constructor(nodes: number) {
    this.first = new Int32Array(nodes).fill(-1);
    this.#last = new Int32Array(nodes).fill(-1);
  }

  /** Adds the next entry; those of all nodes are numbered as they come. */
  add(node: number): void {
    const entry = this.next.push(-1) - 1;
    const last = this.#last[node]!;
    if (last < 0) this.first[node] = entry;
    else this.next[last] = entry;
    this.#last[node] = entry;
  }
}
