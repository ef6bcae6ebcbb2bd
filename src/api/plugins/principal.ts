import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Principal } from './request.ts';

const nobodyInParticular: Principal = { name: 'local' };

/** Who asks. There is no sign-in yet: when there is, this is the function that changes. */
function principalOf(_request: FastifyRequest): Principal {
  return nobodyInParticular;
}

/** Gives every request its principal. */
export function principal(app: FastifyInstance): void {
  app.decorateRequest('principal', null as unknown as Principal);
  app.addHook('onRequest', async (request) => {
    request.principal = principalOf(request);
  });
}
