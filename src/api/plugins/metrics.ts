import { collectDefaultMetrics, Histogram, Registry } from 'prom-client';
import type { Api } from '../api.ts';

/** Times of requests by route and status, and what prom-client knows of the process, at `/metrics`. */
export function metrics(app: Api, registry: Registry = new Registry()): void {
  const seconds = new Histogram({
    name: 'panelday_http_request_seconds',
    help: 'Time from request to reply, by route pattern.',
    labelNames: ['method', 'route', 'status'],
    buckets: [0.005, 0.02, 0.05, 0.1, 0.3, 1, 3, 10],
    registers: [registry],
  });
  if (!registry.getSingleMetric('process_cpu_seconds_total')) collectDefaultMetrics({ register: registry });

  app.addHook('onResponse', async (request, reply) => {
    const route = request.routeOptions.url ?? 'unknown';
    seconds.observe({ method: request.method, route, status: String(reply.statusCode) }, reply.elapsedTime / 1000);
  });
  app.get('/metrics', { schema: { hide: true } as object }, async (_request, reply) => {
    const text = await registry.metrics();
    return reply.type(registry.contentType).header('cache-control', 'no-store').send(text);
  });
}
