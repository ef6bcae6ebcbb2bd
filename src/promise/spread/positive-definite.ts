/**
 * Inverse of a symmetric positive definite matrix, row by row, by Cholesky factors (G. H. Golub and C. F. Van Loan,
 * "Matrix Computations", section 4.2).
 *
 * @throws RangeError when the matrix is not positive definite.
 */
export function inverseOf(matrix: readonly Float64Array[]): Float64Array[] {
  const n = matrix.length;
  const lower = matrix.map((row) => Float64Array.from(row));
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let sum = lower[i]![j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      if (i > j) lower[i]![j] = sum / lower[j]![j]!;
      else if (sum > 0) lower[j]![j] = Math.sqrt(sum);
      else throw new RangeError(`matrix is not positive definite in row ${j}`);
    }
  }
  const inverse = matrix.map(() => new Float64Array(n));
  const column = new Float64Array(n);
  for (let c = 0; c < n; c++) {
    for (let i = 0; i < n; i++) {
      let sum = i === c ? 1 : 0;
      for (let k = 0; k < i; k++) sum -= lower[i]![k]! * column[k]!;
      column[i] = sum / lower[i]![i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = column[i]!;
      for (let k = i + 1; k < n; k++) sum -= lower[k]![i]! * column[k]!;
      column[i] = sum / lower[i]![i]!;
    }
    for (let i = 0; i < n; i++) inverse[i]![c] = column[i]!;
  }
  return inverse;
}
