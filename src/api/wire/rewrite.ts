import type { z } from 'zod';

/** A replacement for a schema, or undefined to look inside it. */
export type Replace = (schema: z.core.$ZodType) => z.core.$ZodType | undefined;

type Def = Record<string, unknown> & { type: string };

/**
 * A copy of a schema with some of its parts replaced, at any depth; checks and refinements stay. A schema in which
 * nothing changes is returned as it is, so that identity still tells which is which.
 */
export function rewriteWith(replace: Replace) {
  const done = new WeakMap<z.core.$ZodType, z.core.$ZodType>();

  function rewrite(schema: z.core.$ZodType): z.core.$ZodType {
    const known = done.get(schema);
    if (known) return known;
    const result = replace(schema) ?? inside(schema);
    done.set(schema, result);
    return result;
  }

  function inside(schema: z.core.$ZodType): z.core.$ZodType {
    const def = schema._zod.def as unknown as Def;
    switch (def.type) {
      case 'object':
        return changed(schema, def, { shape: record(def.shape as Record<string, z.core.$ZodType>) });
      case 'array':
        return changed(schema, def, { element: rewrite(def.element as z.core.$ZodType) });
      case 'union':
        return changed(schema, def, { options: list(def.options as z.core.$ZodType[]) });
      case 'tuple':
        return changed(schema, def, { items: list(def.items as z.core.$ZodType[]) });
      case 'record':
        return changed(schema, def, { valueType: rewrite(def.valueType as z.core.$ZodType) });
      case 'nullable':
      case 'optional':
      case 'default':
      case 'prefault':
      case 'readonly':
        return changed(schema, def, { innerType: rewrite(def.innerType as z.core.$ZodType) });
      default:
        return schema;
    }
  }

  function list(schemas: z.core.$ZodType[]): z.core.$ZodType[] {
    const copies = schemas.map(rewrite);
    return copies.every((copy, at) => copy === schemas[at]) ? schemas : copies;
  }

  function record(shape: Record<string, z.core.$ZodType>): Record<string, z.core.$ZodType> {
    const copies = Object.fromEntries(Object.entries(shape).map(([key, value]) => [key, rewrite(value)]));
    return Object.keys(shape).every((key) => copies[key] === shape[key]) ? shape : copies;
  }

  return <S extends z.core.$ZodType>(schema: S): S => rewrite(schema) as S;
}

function changed(schema: z.core.$ZodType, def: Def, parts: Record<string, unknown>): z.core.$ZodType {
  if (Object.keys(parts).every((key) => parts[key] === def[key])) return schema;
  // An object's shape is a getter on its definition: copy the definition, then lay the new parts over it.
  const copy = Object.defineProperties({}, Object.getOwnPropertyDescriptors(def));
  for (const [key, value] of Object.entries(parts)) {
    Object.defineProperty(copy, key, { value, enumerable: true, configurable: true, writable: true });
  }
  return new schema._zod.constr(copy as never);
}
