import { z } from 'zod';
import { PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import { onTheWire } from './on-the-wire.ts';

/** Parts of a plan: every screen shows them again, and while the plan stands they do not change. */
const parts: ReadonlySet<z.core.$ZodType> = new Set([PlannedOperation, PlannedStay, PlannedJob].map(onTheWire));

/**
 * For the schema of a part of a plan one that writes each frozen part once and then has it ready; undefined for other schemas.
 * `write` gives the schema in the zone of the reply.
 */
export function writtenOnce(
  schema: z.core.$ZodType,
  write: (schema: z.core.$ZodType) => z.core.$ZodType,
): z.core.$ZodType | undefined {
  if (!parts.has(schema)) return undefined;
  const inItsZone = write(schema);
  const written = new WeakMap<object, unknown>();
  return z.codec(z.any(), z.any(), {
    decode: (value) => value,
    encode: (value: object) => {
      const ready = written.get(value);
      if (ready !== undefined) return ready;
      const encoded = z.encode(inItsZone, value);
      // What is not frozen may say something else when it is asked for again.
      if (Object.isFrozen(value)) written.set(value, encoded);
      return encoded;
    },
  });
}
