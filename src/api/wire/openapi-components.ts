type Document = { components?: { schemas?: Record<string, unknown> } };

/** The document without the schemas that nothing in it refers to. */
export function withoutUnused<D extends object>(document: D): D {
  const { components, ...rest } = document as D & Document;
  const schemas = components?.schemas ?? {};
  const used = new Set<string>();
  const look = (value: unknown): void => {
    if (Array.isArray(value)) for (const each of value) look(each);
    else if (typeof value === 'object' && value !== null) {
      for (const [key, each] of Object.entries(value)) {
        const name = key === '$ref' && typeof each === 'string' ? each.replace('#/components/schemas/', '') : undefined;
        if (name === undefined) look(each);
        else if (!used.has(name)) {
          used.add(name);
          look(schemas[name]);
        }
      }
    }
  };
  look(rest);
  const kept = Object.fromEntries(Object.entries(schemas).filter(([name]) => used.has(name)));
  return { ...document, components: { ...components, schemas: kept } };
}

const successes: Readonly<Record<string, string>> = { 200: 'As asked.', 201: 'Made.', 204: 'Done.' };

/** The document with a word for each reply that says nothing of itself. */
export function withReplyWords<D extends object>(document: D): D {
  return JSON.parse(
    JSON.stringify(document, (_key, value) => {
      if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
      return Object.fromEntries(
        Object.entries(value).map(([status, reply]) => [
          status,
          isSilent(reply) ? { ...reply, description: successes[status] ?? 'The reply.' } : reply,
        ]),
      );
    }),
  );
}

function isSilent(reply: unknown): reply is object {
  return (
    typeof reply === 'object' && reply !== null && 'description' in reply && reply.description === 'Default Response'
  );
}
