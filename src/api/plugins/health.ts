import type { Api } from '../api.ts';
import type { ApiDeps } from '../deps.ts';
import { ApiProblem } from '../wire/problem.ts';

/** `/health/live`: the process answers. `/health/ready`: the store and whatever else it needs answer too. */
export function health(app: Api, deps: ApiDeps): void {
  const hidden = { schema: { hide: true } as object };
  app.get('/health/live', hidden, async (_request, reply) =>
    reply.header('cache-control', 'no-store').send({ status: 'live', version: deps.version }),
  );
  app.get('/health/ready', hidden, async (request, reply) => {
    try {
      await deps.shop.store.ping();
      await deps.ready?.();
    } catch (error) {
      request.log.warn({ err: error }, 'not ready');
      throw new ApiProblem('not-ready', 'The store or the planning workers do not answer.');
    }
    return reply.header('cache-control', 'no-store').send({ status: 'ready', version: deps.version });
  });
}
