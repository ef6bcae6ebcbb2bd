import type { Socket } from 'node:net';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { type ProblemDetails, problemKinds } from '../wire/problem.ts';

const DETAIL = 'The address cannot be read, or a part of it is longer than any identifier.';

/** Answers addresses that no route is even asked for: broken escapes, parts longer than any identifier. No hook runs for them. */
export function refuseUnreadAddress(_error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  reply.raw.writeHead(problemKinds['invalid-request'].status, {
    ...headers,
    'x-request-id': request.id,
  });
  reply.raw.end(text(DETAIL, request.id));
}

/** Answers what is no HTTP at all, or headers larger than the server reads, as far as anybody still listens. */
export function refuseUnreadRequest(error: { readonly code?: string }, socket: Socket): void {
  // The other side is gone, or the server gave up waiting for it.
  if (error.code === 'ECONNRESET' || socket.destroyed) return;
  if (socket.writable) {
    const body = text('What was sent cannot be read as an HTTP request.');
    const lines = Object.entries({
      ...headers,
      'content-length': String(Buffer.byteLength(body)),
      connection: 'close',
    });
    const head = lines.map(([name, value]) => `${name}: ${value}`).join('\r\n');
    socket.write(`HTTP/1.1 400 Bad Request\r\n${head}\r\n\r\n${body}`);
  }
  socket.destroySoon();
}

const headers = {
  'content-type': 'application/problem+json; charset=utf-8',
  'cache-control': 'no-store',
  'x-content-type-options': 'nosniff',
};

function text(detail: string, requestId?: string): string {
  const { status, title } = problemKinds['invalid-request'];
  const problem: ProblemDetails = { type: '/problems/invalid-request', title, status, detail };
  return JSON.stringify({ ...problem, ...(requestId === undefined ? {} : { requestId }) });
}
