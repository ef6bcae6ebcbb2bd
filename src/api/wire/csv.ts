import { stringify } from 'csv-stringify/sync';
import { z } from 'zod';

/** A CSV reply (RFC 4180), for the document. */
export const csvReply = {
  description: 'CSV (RFC 4180): a header line, then a line each; commas, CRLF, UTF-8.',
  content: { 'text/csv': { schema: z.string() } },
};

/** Rows as CSV. Cells that a spreadsheet would take for a formula are escaped. */
export function asCsv<T extends object>(columns: readonly (keyof T & string)[], rows: readonly T[]): string {
  return stringify(
    rows.map((row) => columns.map((column) => row[column])),
    { header: true, columns: [...columns], record_delimiter: 'windows', escape_formulas: true },
  );
}
