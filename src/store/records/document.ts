import type { z } from 'zod';
import { InvalidDocument } from '../contract/errors.ts';

/** Checks a value against its model. `row` names it in the error. @throws InvalidDocument */
export function checkDocument<T>(model: z.ZodType<T>, value: unknown, row: string): T {
  const parsed = model.safeParse(value);
  if (parsed.success) return parsed.data;
  throw new InvalidDocument(
    row,
    parsed.error.issues.map((issue) => ({ field: issue.path.join('.') || '(whole)', message: issue.message })),
  );
}

/** Reads a JSON column through its model. @throws InvalidDocument naming the row */
export function readDocument<T>(model: z.ZodType<T>, text: string, row: string): T {
  return checkDocument(model, parseJson(text, row), row);
}

/** @throws InvalidDocument naming the row */
export function parseJson(text: string, row: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new InvalidDocument(row, [{ field: '(whole)', message: 'is not JSON' }]);
  }
}
