/** Compares two objectives tier by tier: negative when `a` is less in the first tier in which they differ. */
export function compareTiers(a: ArrayLike<number>, b: ArrayLike<number>): number {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return a[k]! - b[k]!;
  return 0;
}
