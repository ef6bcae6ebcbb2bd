import type { z } from 'zod';
import { WireInstant, wireInstantIn } from './instant.ts';
import { rewriteWith } from './rewrite.ts';
import { writtenOnce } from './written-once.ts';

const zones = new Map<string, ReturnType<typeof rewriteWith>>();

/** A wire schema that writes instants with the offset they have in a zone. */
export function inZone<S extends z.core.$ZodType>(schema: S, zone: string): S {
  let rewrite = zones.get(zone);
  if (!rewrite) {
    const codec = wireInstantIn(zone);
    const instants = rewriteWith((part) => (part === WireInstant ? codec : undefined));
    rewrite = rewriteWith((part) => (part === WireInstant ? codec : writtenOnce(part, instants)));
    zones.set(zone, rewrite);
  }
  return rewrite(schema);
}
