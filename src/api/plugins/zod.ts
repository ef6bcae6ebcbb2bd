import type { FastifySchemaCompiler } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import type { Api } from '../api.ts';
import { inZone } from '../wire/in-zone.ts';
import { strictly } from '../wire/on-the-wire.ts';

const refusingUnknownFields: FastifySchemaCompiler<z.core.$ZodType> = (route) =>
  validatorCompiler({ ...route, schema: route.httpPart === 'headers' ? route.schema : strictly(route.schema) });

export const JSON_TYPE = 'application/json; charset=utf-8';

type Serialize = (payload: unknown) => string;

const texts = new WeakMap<object, { readonly serialize: Serialize; readonly text: string }>();

/** A frozen payload that is sent again is the same text again; what is not frozen may say something else. */
function textOf(payload: unknown, serialize: Serialize): string {
  if (typeof payload !== 'object' || payload === null || !Object.isFrozen(payload)) return serialize(payload);
  const known = texts.get(payload);
  if (known?.serialize === serialize) return known.text;
  const text = serialize(payload);
  texts.set(payload, { serialize, text });
  return text;
}

/** Requests are read by their zod schemas and refuse unknown fields; replies are written in the shop's zone. */
export function zodSchemas(app: Api): void {
  app.decorateRequest('write', undefined);
  app.setValidatorCompiler(refusingUnknownFields);
  app.setSerializerCompiler(serializerCompiler);

  const compiled = new WeakMap<z.core.$ZodType, Map<string, Serialize>>();
  function serializerFor(schema: z.core.$ZodType, zone: string, method: string, url: string): Serialize {
    let byZone = compiled.get(schema);
    if (!byZone) {
      byZone = new Map();
      compiled.set(schema, byZone);
    }
    let serialize = byZone.get(zone);
    if (!serialize) {
      serialize = serializerCompiler({ schema: inZone(schema, zone), method, url }) as Serialize;
      byZone.set(zone, serialize);
    }
    return serialize;
  }

  app.addHook('preHandler', async (request, reply) => {
    const { schema, url = '' } = request.routeOptions;
    const response = schema?.response as Record<number, unknown> | undefined;
    if (!response) return;
    request.write = (status, payload) => {
      const declared = response[status];
      if (!isZod(declared)) throw new Error(`no schema for a reply ${status} of ${request.method} ${url}`);
      return textOf(payload, serializerFor(declared, request.zone, request.method, url));
    };
    reply.serializer((payload: unknown) => {
      if (typeof payload === 'string') return payload;
      const text = request.write!(reply.statusCode, payload);
      if (!reply.hasHeader('content-type')) reply.type(JSON_TYPE);
      return text;
    });
  });
}

function isZod(schema: unknown): schema is z.core.$ZodType {
  return typeof schema === 'object' && schema !== null && '_zod' in schema;
}
