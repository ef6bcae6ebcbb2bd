import { z } from 'zod';
import { ApiProblem } from './problem.ts';

/** Query of a list. */
export const PageQuery = z.object({
  limit: z.coerce.number().int().min(1).max(200).default(50).describe('Most items in the reply.'),
  cursor: z.string().min(1).max(400).optional().describe('`nextCursor` of the part before.'),
});

/**
 * The part of a list, ordered by a key that is unique in it, that a cursor points to. The cursor holds the key of the
 * last item handed out, so that what is added or removed meanwhile neither repeats nor hides another.
 * @throws invalid-request when the cursor is none that a list gave
 */
export function pageBy<T>(
  ordered: readonly T[],
  keyOf: (item: T) => string,
  { limit, cursor }: z.output<typeof PageQuery>,
): { items: T[]; nextCursor: string | null } {
  const after = cursor === undefined ? null : decode(cursor);
  const rest = after === null ? ordered : ordered.filter((item) => keyOf(item) > after);
  const items = rest.slice(0, limit);
  const last = items.at(-1);
  const more = rest.length > items.length && last !== undefined;
  return { items, nextCursor: more ? encode(keyOf(last)) : null };
}

/**
 * The same for a list whose order changes with the hour: the part after the item the cursor names, or the first part
 * again when that item has left the list.
 */
export function pageByPosition<T>(
  ordered: readonly T[],
  keyOf: (item: T) => string,
  { limit, cursor }: z.output<typeof PageQuery>,
): { items: T[]; nextCursor: string | null } {
  const after = cursor === undefined ? null : decode(cursor);
  const start = after === null ? 0 : ordered.findIndex((item) => keyOf(item) === after) + 1;
  const items = ordered.slice(start, start + limit);
  const last = items.at(-1);
  const more = start + items.length < ordered.length && last !== undefined;
  return { items, nextCursor: more ? encode(keyOf(last)) : null };
}

function encode(key: string): string {
  return Buffer.from(`after ${key}`).toString('base64url');
}

function decode(cursor: string): string {
  const text = Buffer.from(cursor, 'base64url').toString();
  if (text.startsWith('after ')) return text.slice('after '.length);
  throw new ApiProblem('invalid-request', 'The cursor is not one that a list gave.', [
    { in: 'query', field: '/cursor', message: 'is not one that a list gave' },
  ]);
}
