/** Lists of things, one a node; most nodes have none. */
export class ListsByNode<T> {
  readonly #lists: (T[] | undefined)[];
  readonly #none: readonly T[] = [];

  constructor(nodes: number) {
    this.#lists = new Array(nodes).fill(undefined);
  }

  add(node: number, item: T): void {
    const list = this.#lists[node];
    if (list === undefined) this.#lists[node] = [item];
    else list.push(item);
  }

  of(node: number): readonly T[] {
    return this.#lists[node] ?? this.#none;
  }
}
