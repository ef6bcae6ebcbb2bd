import type { z } from 'zod';

/** What zod's JSON Schema does not say of our schemas. */
export function jsonSchemaOverride({
  zodSchema,
  jsonSchema,
}: {
  zodSchema: z.core.$ZodType;
  jsonSchema: object;
}): void {
  const json = jsonSchema as Record<string, unknown>;
  const { type } = zodSchema._zod.def;
  if (type === 'pipe') {
    // The only pipes are instants. Inside they are numbers; a reply, like a request, carries the text.
    for (const key of Object.keys(json)) if (key !== 'description') delete json[key];
    json.type = 'string';
    json.format = 'date-time';
  }
  if (type === 'undefined') json.type = 'null';
}
