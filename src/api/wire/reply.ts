import { z } from 'zod';
import { onTheWire, type Wire } from './on-the-wire.ts';

/** An array in a reply; the use cases hand out read-only ones. */
export function listOf<S extends z.ZodType>(schema: S): z.ZodType<readonly z.output<S>[]> {
  return z.array(schema) as unknown as z.ZodType<readonly z.output<S>[]>;
}

/** A part of a list and where the next part begins; null on the last one. */
export function pageOf<S extends z.ZodType>(schema: S) {
  return onTheWire(z.object({ items: listOf(schema), nextCursor: z.string().nullable() }));
}

/** A reply with no body. */
export const noContent: Wire<z.ZodUndefined> = z.undefined();
