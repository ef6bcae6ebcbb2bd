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
