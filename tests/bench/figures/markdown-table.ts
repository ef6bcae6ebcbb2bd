/** A table as markdown: the first column to the left, figures to the right. */
export function markdownTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const rule = head.map((_, column) => (column === 0 ? '---' : '---:'));
  return [line(head), line(rule), ...rows.map(line)].join('\n');
}

/** A figure with as many digits as it is worth: none from a hundred on, one from ten on, else two. */
export function figure(value: number): string {
  if (!Number.isFinite(value)) return '-';
  return value.toFixed(Number.isInteger(value) || Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2);
}
