import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { nobody } from '../../shop/access/principal.ts';
import { ApiProblem } from '../wire/problem.ts';

/**
 * Limits how much one account, or one address nobody has signed in from, may ask in a minute. Routes that try secrets say
 * a limit of their own in `config.rateLimit`, which counts by address whoever is signed in.
 */
export async function rateLimits(app: FastifyInstance, requestsPerMinute: number | undefined): Promise<void> {
  await app.register(rateLimit, {
    global: requestsPerMinute !== undefined,
    max: requestsPerMinute ?? Number.MAX_SAFE_INTEGER,
    timeWindow: '1 minute',
    keyGenerator: keyOf,
    errorResponseBuilder: () => new ApiProblem('too-many', 'Too many requests in a minute.'),
  });
}

function keyOf(request: FastifyRequest): string {
  const { who } = request.principal;
  const ofItsOwn = typeof request.routeOptions.config.rateLimit === 'object';
  return who === nobody.who || ofItsOwn ? `address ${request.ip}` : who;
}
