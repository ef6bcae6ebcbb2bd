import { z } from 'zod';
import { Instant } from '../../trade/model/time.ts';
import { WireInstant } from './instant.ts';
import { rewriteWith } from './rewrite.ts';

/** A schema whose values are the domain's and whose wire form writes every instant as ISO 8601. */
export type Wire<S extends z.ZodType> = z.ZodType<z.output<S>, unknown>;

const instantsAsText = rewriteWith((schema) => (schema === Instant ? WireInstant : undefined));

/** The wire form of a schema of the domain. */
export function onTheWire<S extends z.ZodType>(schema: S): Wire<S> {
  return instantsAsText(schema) as unknown as Wire<S>;
}

const refuse = z.never();

/** A wire schema that refuses properties nobody knows, so that a misspelt field is told and not lost. */
export const strictly = rewriteWith(function refuseUnknown(schema): z.core.$ZodType | undefined {
  if (!(schema instanceof z.ZodObject) || schema._zod.def.catchall) return undefined;
  const shape = Object.fromEntries(
    Object.entries(schema._zod.def.shape).map(([key, value]) => [key, strictly(value as z.core.$ZodType)]),
  );
  return new schema._zod.constr({ ...schema._zod.def, shape, catchall: refuse } as never);
});
