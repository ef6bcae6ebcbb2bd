import fastifyStatic from '@fastify/static';
import fastify from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { answerOnce } from '../shop/requests/answer-once.ts';
import { followEvents } from '../shop/requests/follow-events.ts';
import type { Api } from './api.ts';
import type { ApiDeps } from './deps.ts';
import { caching } from './plugins/caching.ts';
import { documentation } from './plugins/documentation.ts';
import { health } from './plugins/health.ts';
import { idempotency } from './plugins/idempotency.ts';
import { knownRoutes } from './plugins/known-routes.ts';
import { metrics } from './plugins/metrics.ts';
import { principal } from './plugins/principal.ts';
import { problems } from './plugins/problems.ts';
import { requestIdOf, requestIds } from './plugins/request-id.ts';
import { securityHeaders } from './plugins/security-headers.ts';
import { shopScope } from './plugins/shop-scope.ts';
import { zodSchemas } from './plugins/zod.ts';
import { problemKindRoutes } from './routes/problem-kinds/routes.ts';
import { setupRoutes } from './routes/setup/routes.ts';
import { shopRoutes } from './routes/shops/routes.ts';

/**
 * The REST API as a Fastify instance that listens nowhere: the caller listens, a test injects. Closing it ends the event
 * streams; the store, the planner and the replanner stay the caller's.
 */
export async function buildApp(deps: ApiDeps): Promise<Api> {
  const app: Api = fastify({
    ...(deps.logger ? { loggerInstance: deps.logger } : { logger: false }),
    bodyLimit: deps.bodyLimitBytes ?? 1024 * 1024,
    requestIdHeader: false,
    genReqId: requestIdOf,
    routerOptions: { ignoreTrailingSlash: true, maxParamLength: 128 },
    forceCloseConnections: true,
  }).withTypeProvider<ZodTypeProvider>();

  app.decorateRequest('zone', 'utc');
  app.decorateRequest('shopId', '' as never);
  const methodsOf = knownRoutes(app);
  zodSchemas(app);
  problems(app, methodsOf);
  requestIds(app);
  principal(app);
  caching(app);
  await securityHeaders(app);
  await documentation(app, deps.version);
  metrics(app, deps.metrics);
  health(app, deps);
  problemKindRoutes(app);
  shopRoutes(app, deps);

  await app.register(
    async (scope) => {
      const shop: Api = scope.withTypeProvider<ZodTypeProvider>();
      shopScope(shop, deps.shop);
      idempotency(shop, answerOnce(deps.shop.store, deps.shop.clock));
      setupRoutes(shop, deps);
    },
    { prefix: '/v1/shops/:shopId' },
  );

  if (deps.webRoot !== undefined) await app.register(fastifyStatic, { root: deps.webRoot });
  await app.ready();
  return app;
}
void followEvents;
