import { randomUUID } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { FastifyInstance } from 'fastify';

const wellFormed = /^[A-Za-z0-9._-]{8,64}$/;

/** The caller's own request id when it is well formed, else a new one. */
export function requestIdOf(request: Pick<IncomingMessage, 'headers'>): string {
  const given = request.headers['x-request-id'];
  return typeof given === 'string' && wellFormed.test(given) ? given : randomUUID();
}

/** Echoes the request id, so that a caller can name it to whoever reads the log. */
export function requestIds(app: FastifyInstance): void {
  app.addHook('onRequest', async (request, reply) => {
    reply.header('x-request-id', request.id);
  });
}
