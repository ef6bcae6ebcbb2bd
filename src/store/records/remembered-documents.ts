import type { z } from 'zod';
import { readDocument } from './document.ts';

/** Characters of text remembered before the longest unread is forgotten: a plan of a few hundred jobs has some two million. */
const MOST_CHARACTERS = 8_000_000;

interface Remembered {
  readonly model: z.ZodType;
  readonly text: string;
  readonly value: unknown;
}

/** By key, the longest unread first. */
const remembered = new Map<string, Remembered>();
let characters = 0;

/**
 * Reads a JSON column through its model, or takes the document that the very same text made before: reading a plan or
 * two hundred jobs anew for every screen costs more than all else. What a text means cannot go stale, so nothing needs
 * to be told of a change. The document is frozen, since others hold it too. `key` names what is replaced by a newer text.
 * @throws InvalidDocument naming the row
 */
export function rememberedDocument<T>(model: z.ZodType<T>, text: string, row: string, key = row): T {
  const known = remembered.get(key);
  if (known !== undefined) {
    remembered.delete(key);
    characters -= known.text.length;
  }
  const value =
    known?.model === model && known.text === text ? (known.value as T) : frozen(readDocument(model, text, row));
  remembered.set(key, { model, text, value });
  characters += text.length;
  for (const [oldest, { text: its }] of remembered) {
    if (characters <= MOST_CHARACTERS) break;
    remembered.delete(oldest);
    characters -= its.length;
  }
  return value;
}

function frozen<T>(value: T): T {
  if (typeof value !== 'object' || value === null) return value;
  for (const part of Object.values(value)) frozen(part);
  return Object.freeze(value);
}
