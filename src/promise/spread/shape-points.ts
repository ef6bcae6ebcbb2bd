/** Points of a recorded shape. */
const POINTS = 33;

/** Quantiles at (k + 0.5) / 33 of values, linear between neighbours. */
export function shapePoints(values: readonly number[]): readonly number[] {
  const ascending = [...values].sort((a, b) => a - b);
  return Array.from({ length: POINTS }, (_, k) => {
    const at = ((k + 0.5) / POINTS) * ascending.length - 0.5;
    const below = Math.max(0, Math.min(ascending.length - 2, Math.floor(at)));
    const part = Math.min(1, Math.max(0, at - below));
    return ascending[below]! + part * (ascending[below + 1]! - ascending[below]!);
  });
}
