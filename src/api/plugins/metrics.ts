import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import { tally } from '../../shop/upkeep/tally.ts';
import type { Api } from '../api.ts';
import type { ApiDeps } from '../deps.ts';

/**
 * What whoever watches over the server reads at `/metrics`: times of requests by route and status, what the shops hold in
 * numbers, and what prom-client knows of the process. Nothing in it names a shop or a person.
 */
export function metrics(app: Api, deps: Pick<ApiDeps, 'shop' | 'version'> & { readonly metrics?: Registry }): void {
  const registry = deps.metrics ?? new Registry();
  const seconds = new Histogram({
    name: 'panelday_http_request_seconds',
    help: 'Time from request to reply, by route pattern.',
    labelNames: ['method', 'route', 'status'],
    buckets: [0.005, 0.02, 0.05, 0.1, 0.3, 1, 3, 10],
    registers: [registry],
  });
  const refreshShops = metricsOfShops(registry, deps);
  if (!registry.getSingleMetric('process_cpu_seconds_total')) collectDefaultMetrics({ register: registry });

  app.addHook('onResponse', async (request, reply) => {
    const route = request.routeOptions.url ?? 'unknown';
    seconds.observe({ method: request.method, route, status: String(reply.statusCode) }, reply.elapsedTime / 1000);
  });
  app.get('/metrics', { schema: { hide: true } as object }, async (_request, reply) => {
    await refreshShops();
    const text = await registry.metrics();
    return reply.type(registry.contentType).header('cache-control', 'no-store').send(text);
  });
}

/** Numbers that the store holds; read anew when asked, since any server of the database changes them. */
function metricsOfShops(registry: Registry, deps: Pick<ApiDeps, 'shop' | 'version'>): () => Promise<void> {
  const registers = [registry];
  const gauge = (name: string, help: string, ...labelNames: string[]) =>
    new Gauge({ name: `panelday_${name}`, help, labelNames, registers });
  const counter = (name: string, help: string) => new Counter({ name: `panelday_${name}`, help, registers });
  const up = gauge('store_up', 'Whether the database answered, 1 or 0.');
  const shops = gauge('shops', 'Shops of the database.');
  const jobs = gauge('jobs', 'Jobs by state.', 'state');
  const messages = gauge(
    'customer_messages',
    'E-mail to customers by state; failed and unknown ask for a person.',
    'state',
  );
  const exceptions = gauge('desk_exceptions_unacknowledged', 'Exceptions that nobody at a desk has acknowledged.');
  const plans = counter('plans_published_total', 'Plans published by any server since the first.');
  const news = counter('news_total', 'News told to screens by any server since the first.');
  gauge('build_info', 'Always 1; the label says which release runs.', 'version').set({ version: deps.version }, 1);
  const ofStore = [shops, jobs, messages, exceptions, plans, news];

  return async () => {
    const counts = await tally(deps.shop).catch(() => null);
    // From here on at one go: two may ask at once.
    for (const each of ofStore) each.reset();
    up.set(counts === null ? 0 : 1);
    if (counts === null) {
      // What is not known is not told as none; readiness says why.
      for (const each of [shops, exceptions, plans, news]) each.remove();
      return;
    }
    shops.set(counts.shops);
    for (const [state, many] of Object.entries(counts.jobs)) jobs.set({ state }, many);
    for (const [state, many] of Object.entries(counts.messages)) messages.set({ state }, many);
    exceptions.set(counts.unacknowledgedExceptions);
    plans.inc(counts.plans);
    news.inc(counts.news);
  };
}
