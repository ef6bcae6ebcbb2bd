import { createHash } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { matchesNone } from '../wire/entity-tag.ts';

/**
 * Cache-Control on every reply: what is read may be kept but is asked for again, nothing else is kept. A reply that is
 * read and carries no tag of its own gets a weak one from its bytes, so that a screen that polls is told 304.
 */
export function caching(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload) => {
    const read = request.method === 'GET' || request.method === 'HEAD';
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', read ? 'private, no-cache' : 'no-store');
    if (!read || reply.statusCode !== 200 || typeof payload !== 'string') return payload;
    if (!reply.hasHeader('etag')) {
      reply.header('etag', `W/"${createHash('sha256').update(payload).digest('base64url').slice(0, 22)}"`);
    }
    if (matchesNone(request.headers['if-none-match'], String(reply.getHeader('etag')))) return payload;
    reply.code(304).removeHeader('content-type').removeHeader('content-length');
    return '';
  });
}
