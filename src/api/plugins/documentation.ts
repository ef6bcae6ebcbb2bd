import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import type { FastifySchema } from 'fastify';
import { createJsonSchemaTransform, createJsonSchemaTransformObject } from 'fastify-type-provider-zod';
import type { Api } from '../api.ts';
import { describedSchemas } from '../wire/described-schemas.ts';
import { jsonSchemaOverride } from '../wire/json-schema.ts';
import { withoutUnused, withReplyWords } from '../wire/openapi-components.ts';
import type { Need } from './admission.ts';

/** The OpenAPI 3.1 document at `/v1/openapi.json`, made from the routes' schemas, and a page to read it at `/docs/`. */
export async function documentation(app: Api, version: string): Promise<void> {
  const options = { schemaRegistry: describedSchemas, zodToJsonConfig: { override: jsonSchemaOverride } };
  const components = createJsonSchemaTransformObject(options);
  const transform = createJsonSchemaTransform({ ...options, skipList: [] });
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Panelday',
        version,
        description:
          'Scheduling and bay capacity for a detailing and ceramic-coating studio. Instants are ISO 8601 with an offset ' +
          "and are answered in the shop's zone; days are YYYY-MM-DD in it; money is in minor units. Problems are RFC 9457. " +
          'Every POST that creates takes Idempotency-Key; every change of something versioned takes If-Match.',
      },
      servers: [{ url: '/' }],
      components: {
        securitySchemes: {
          token: { type: 'http', scheme: 'bearer', description: 'Of a program; its scopes are permissions.' },
          session: {
            type: 'apiKey',
            in: 'cookie',
            name: 'panelday-session',
            description: 'Of a person who signed in.',
          },
        },
      },
    },
    transform: (given) => {
      const { schema, url } = transform(given);
      return { schema: { ...schema, ...whoMay(given.route?.config?.needs) }, url };
    },
    transformObject: (document) => withReplyWords(withoutUnused(components(document))),
  });
  await app.register(swaggerUi, {
    routePrefix: '/docs',
    // The headers of every other reply do for this page too. No badge: it would show the document to a service elsewhere.
    uiConfig: { layout: 'BaseLayout', deepLinking: true, defaultModelsExpandDepth: 0, validatorUrl: null },
    theme: { title: 'Panelday API', favicon: [] },
  });
  app.get(
    '/v1/openapi.json',
    { config: { needs: 'open' }, schema: { hide: true } as object },
    async (_request, reply) => reply.type('application/json').serializer(JSON.stringify).send(app.swagger()),
  );
}

/** What an operation takes to be allowed, for the document. */
function whoMay(needs: Need | undefined): Pick<FastifySchema, 'security'> & { 'x-needs': Need } {
  if (needs === undefined || needs === 'open') return { 'x-needs': 'open', security: [] };
  return { 'x-needs': needs, security: [{ token: [] }, { session: [] }] };
}
