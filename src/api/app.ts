import { randomUUID } from 'node:crypto';
import fastify from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import type { CustomerService } from '../shop/customer/deps.ts';
import { linkTokens } from '../shop/customer/link-tokens.ts';
import { answerOnce } from '../shop/requests/answer-once.ts';
import type { Api } from './api.ts';
import type { ApiDeps } from './deps.ts';
import { admission } from './plugins/admission.ts';
import { caching } from './plugins/caching.ts';
import { compression } from './plugins/compression.ts';
import { documentation } from './plugins/documentation.ts';
import { health } from './plugins/health.ts';
import { idempotency } from './plugins/idempotency.ts';
import { knownHosts } from './plugins/known-hosts.ts';
import { knownRoutes } from './plugins/known-routes.ts';
import { lastReplies } from './plugins/last-replies.ts';
import { logPrivately } from './plugins/log-privately.ts';
import { metrics } from './plugins/metrics.ts';
import { problems } from './plugins/problems.ts';
import { rateLimits } from './plugins/rate-limits.ts';
import { requestIdOf, requestIds } from './plugins/request-id.ts';
import { sameOrigin } from './plugins/same-origin.ts';
import { screens } from './plugins/screens.ts';
import { securityHeaders } from './plugins/security-headers.ts';
import { credentialsOf, sessionCookies } from './plugins/session-cookies.ts';
import { shopScope } from './plugins/shop-scope.ts';
import { refuseUnreadAddress, refuseUnreadRequest } from './plugins/unread-requests.ts';
import { zodSchemas } from './plugins/zod.ts';
import { admittingRoutes } from './routes/access/admitting-routes.ts';
import { signInRoutes } from './routes/access/sign-in-routes.ts';
import { auditRoutes } from './routes/audit/routes.ts';
import { breakdownRoutes } from './routes/breakdown/routes.ts';
import { calendarRoutes } from './routes/calendars/routes.ts';
import { customerRoutes } from './routes/customer/routes.ts';
import { diaryRoutes } from './routes/diary/routes.ts';
import { eventRoutes } from './routes/events/routes.ts';
import { exceptionRoutes } from './routes/exceptions/routes.ts';
import { floorRoutes } from './routes/floor/routes.ts';
import { inspectionRoutes } from './routes/inspections/routes.ts';
import { jobCardRoutes } from './routes/job-card/routes.ts';
import { jobChangingRoutes } from './routes/jobs/changing-routes.ts';
import { jobReadingRoutes } from './routes/jobs/reading-routes.ts';
import { jobTakingRoutes } from './routes/jobs/taking-routes.ts';
import { messageRoutes } from './routes/messages/routes.ts';
import { ownerWhatIfRoutes } from './routes/owner-what-ifs/routes.ts';
import { personalDataRoutes } from './routes/personal-data/routes.ts';
import { photoRoutes } from './routes/photos/routes.ts';
import { planRoutes } from './routes/plan/routes.ts';
import { problemKindRoutes } from './routes/problem-kinds/routes.ts';
import { promiseRoutes } from './routes/promises/routes.ts';
import { queueRoutes } from './routes/queue/routes.ts';
import { quoteRoutes } from './routes/quotes/routes.ts';
import { readingRoutes } from './routes/readings/routes.ts';
import { setupRoutes } from './routes/setup/routes.ts';
import { shopRoutes } from './routes/shops/routes.ts';
import { timelineRoutes } from './routes/timeline/routes.ts';
import { utilisationRoutes } from './routes/utilisation/routes.ts';
import { whatIfRoutes } from './routes/what-if/routes.ts';

const ofAShop = [
  admittingRoutes,
  auditRoutes,
  setupRoutes,
  jobReadingRoutes,
  jobTakingRoutes,
  jobChangingRoutes,
  breakdownRoutes,
  quoteRoutes,
  planRoutes,
  exceptionRoutes,
  timelineRoutes,
  queueRoutes,
  floorRoutes,
  inspectionRoutes,
  readingRoutes,
  promiseRoutes,
  utilisationRoutes,
  ownerWhatIfRoutes,
  calendarRoutes,
  whatIfRoutes,
  eventRoutes,
  personalDataRoutes,
];

/**
 * The REST API as a Fastify instance that listens nowhere: the caller listens, a test injects. Closing it ends the event
 * streams; the store, the planner and the replanner stay the caller's.
 */
export async function buildApp(deps: ApiDeps): Promise<Api> {
  const app: Api = fastify({
    ...(deps.logger ? { loggerInstance: logPrivately(deps.logger) } : { logger: false }),
    bodyLimit: deps.bodyLimitBytes ?? 1024 * 1024,
    trustProxy: deps.trustedProxies === undefined ? false : [...deps.trustedProxies],
    requestIdHeader: false,
    genReqId: requestIdOf,
    frameworkErrors: refuseUnreadAddress,
    clientErrorHandler: refuseUnreadRequest,
    routerOptions: { ignoreTrailingSlash: true, maxParamLength: 128 },
    // Who is being answered when the server closes is answered; what comes in on a line that is open already, too.
    forceCloseConnections: 'idle',
    return503OnClosing: false,
  }).withTypeProvider<ZodTypeProvider>();

  app.decorateRequest('zone', 'utc');
  app.decorateRequest('shopId', '' as never);
  const methodsOf = knownRoutes(app);
  zodSchemas(app);
  problems(app, methodsOf);
  requestIds(app);
  lastReplies(app);
  knownHosts(app, deps.hosts);
  await sessionCookies(app);
  sameOrigin(app);
  admission(app, (request) => deps.whoAsks.principalOf(credentialsOf(request), deps.shop.clock()), deps.authorship);
  await rateLimits(app, deps.requestsPerMinute);
  caching(app);
  compression(app);
  await securityHeaders(app);
  await documentation(app, deps.version);
  metrics(app, deps);
  health(app, deps);
  problemKindRoutes(app);
  shopRoutes(app, deps);
  signInRoutes(app, deps);
  const customers = { ...deps.shop, ...(deps.customers ?? customersOfNobody()) };
  await customerRoutes(app, customers, deps.webRoot);

  await app.register(
    async (scope) => {
      const shop: Api = scope.withTypeProvider<ZodTypeProvider>();
      shopScope(shop, deps.shop);
      idempotency(shop, answerOnce(deps.shop.store, deps.shop.clock, deps.shop.newId));
      for (const routes of ofAShop) routes(shop, deps);
      await diaryRoutes(shop, deps);
      await photoRoutes(shop, deps);
      messageRoutes(shop, customers);
      jobCardRoutes(shop, customers);
    },
    { prefix: '/v1/shops/:shopId' },
  );

  if (deps.webRoot !== undefined) await screens(app, deps.webRoot, deps.shop);
  await app.ready();
  return app;
}

/** Where nothing else is said: links that this process alone can write, and no e-mail. */
function customersOfNobody(): CustomerService {
  return { tokens: linkTokens(randomUUID()), publicUrl: () => 'http://127.0.0.1', mailer: null };
}
