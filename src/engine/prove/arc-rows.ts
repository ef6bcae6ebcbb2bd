/** Arcs gathered by one of their ends: where each row begins, then other ends and gaps. */
export function rows(
  n: number,
  arcs: readonly { from: number; to: number; gap: number }[],
  key: 'from' | 'to',
  other: 'from' | 'to',
): [Int32Array, Int32Array, Int32Array] {
  const first = new Int32Array(n + 1);
  for (const arc of arcs) first[arc[key] + 1]!++;
  for (let o = 0; o < n; o++) first[o + 1]! += first[o]!;
  const fill = first.slice();
  const ends = new Int32Array(arcs.length);
  const gaps = new Int32Array(arcs.length);
  for (const arc of arcs) {
    const at = fill[arc[key]]!++;
    ends[at] = arc[other];
    gaps[at] = arc.gap;
  }
  return [first, ends, gaps];
}
