import { LRUCache } from 'lru-cache';
import type { z } from 'zod';
import { readDocument } from './document.ts';
import { frozen } from './frozen.ts';

/** Characters of text remembered before the longest unread is forgotten: two hundred jobs have some half a million. */
const MOST_CHARACTERS = 4_000_000;

interface Remembered {
  readonly model: z.ZodType;
  readonly text: string;
  readonly value: unknown;
}

const remembered = new LRUCache<string, Remembered>({
  maxSize: MOST_CHARACTERS,
  sizeCalculation: ({ text }) => Math.max(1, text.length),
});

/**
 * Reads a JSON column through its model, or takes the document that the very same text made before: reading
 * two hundred jobs anew for every screen costs more than all else. What a text means cannot go stale, so nothing needs
 * to be told of a change. The document is frozen, since others hold it too. `key` names what is replaced by a newer text.
 * @throws InvalidDocument naming the row
 */
export function rememberedDocument<T>(model: z.ZodType<T>, text: string, row: string, key = row): T {
  const known = remembered.get(key);
  if (known?.model === model && known.text === text) return known.value as T;
  const value = frozen(readDocument(model, text, row));
  remembered.set(key, { model, text, value });
  return value;
}
