import { z } from 'zod';

/** What zod's JSON Schema does not say of our schemas by itself. */
export function jsonSchemaOverride({
  zodSchema,
  jsonSchema,
}: {
  zodSchema: z.core.$ZodType;
  jsonSchema: object;
}): void {
  const json = jsonSchema as Record<string, unknown>;
  if (zodSchema._zod.traits.has('$ZodCodec')) {
    // The only codecs are instants. Inside they are numbers; a reply, like a request, carries the text.
    for (const key of Object.keys(json)) delete json[key];
    json.type = 'string';
    json.format = 'date-time';
  }
  if (zodSchema._zod.def.type === 'undefined') json.type = 'null';
  const { description } = z.globalRegistry.get(zodSchema) ?? {};
  if (description !== undefined) json.description = description;
}
