import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { AlsoAnswer, AnswerOnce } from '../../shop/requests/answer-once.ts';
import { ApiProblem } from '../wire/problem.ts';
import { JSON_TYPE } from './zod.ts';

/** Header of every POST that creates. */
export const IdempotencyKey = z.object({
  'idempotency-key': z
    .string({ error: 'is required: a new key for each new request' })
    .regex(/^[\x21-\x7e]{8,128}$/, '8 to 128 visible ASCII characters')
    .describe('Made by the caller, new for each new request. The same key again gets the first reply again.'),
});

const replayed = ['content-type', 'etag', 'location'];

/**
 * Answers a POST sent twice with its first reply. A key is unique for shop, principal and route; with another body it
 * is refused (422), while the first is being answered too (409). What failed on our side (5xx) may be tried again; what was
 * begun by a process that died is not done again, since its effect may have happened (409); facts, bookings and holds store
 * their reply with their effect (`sendWithEffect`), and are answered.
 */
export function idempotency(app: FastifyInstance, once: AnswerOnce): void {
  app.decorateRequest('claim', null);
  app.decorateRequest('answered', false);

  app.addHook('preHandler', async (request, reply) => {
    if (request.method !== 'POST' || request.routeOptions.config.computesOnly) return;
    const key = String(request.headers['idempotency-key']);
    const answer = await once.begin(requestKey(request, key), hashOf(request));
    if (answer.kind === 'claimed') {
      request.claim = key;
    } else if (answer.kind === 'otherBody') {
      throw new ApiProblem('key-reused', 'This key was used for another request.', [
        { in: 'header', field: '/idempotency-key', message: 'was used for another request' },
      ]);
    } else if (answer.kind === 'inFlight') {
      reply.header('retry-after', '1');
      throw new ApiProblem('still-in-flight', 'The request with this key is still being answered.');
    } else if (answer.kind === 'lost') {
      throw new ApiProblem('reply-lost', 'The request with this key was begun and never answered.');
    } else {
      const { status, headers, body } = answer.reply;
      return reply
        .code(status)
        .headers(headers)
        .header('idempotency-replayed', 'true')
        .serializer((payload: unknown) => payload as string)
        .send(body);
    }
  });

  app.addHook('onSend', async (request, reply, payload) => {
    if (request.claim === null) return payload;
    const key = requestKey(request, request.claim);
    request.claim = null;
    if (request.answered) return payload;
    if (reply.statusCode >= 500) await once.abandon(key);
    else await once.complete(key, { status: reply.statusCode, headers: kept(reply), body: String(payload ?? '') });
    return payload;
  });
}

/** A reply to be: its status and the headers that belong to it. */
export interface About {
  readonly status: number;
  readonly headers?: Readonly<Record<string, string>>;
}

/**
 * Sends what a use case returns, and has the use case store it in the transaction of its effect: a process that dies between
 * the effect and the reply has then either done both or nothing, and the same request again gets the reply.
 */
export async function sendWithEffect<T>(
  request: FastifyRequest,
  reply: FastifyReply,
  about: (result: T) => About,
  work: (alsoAnswer: AlsoAnswer<T>) => Promise<T>,
): Promise<FastifyReply> {
  let stored = false;
  const result = await work(async (records, told) => {
    if (request.claim === null) return;
    const { status, headers = {} } = about(told);
    const body = request.write!(status, told);
    const key = requestKey(request, request.claim);
    await records.replies.complete(key, { status, headers: { 'content-type': JSON_TYPE, ...headers }, body });
    stored = true;
  });
  // Not before: a transaction that failed has stored nothing.
  request.answered = stored;
  const { status, headers = {} } = about(result);
  return reply.code(status).headers(headers).send(result);
}

function requestKey(request: FastifyRequest, key: string) {
  return {
    shopId: request.shopId,
    principal: request.principal.who,
    route: `${request.method} ${request.routeOptions.url}`,
    key,
  };
}

/** Of the address and the body as the schema read it, so that spacing and the order of fields do not count. */
function hashOf(request: FastifyRequest): string {
  const hash = createHash('sha256').update(`${request.url}\n`);
  // A picture as JSON would be some four times its size.
  if (request.body instanceof Uint8Array) return hash.update(request.body).digest('hex');
  return hash.update(JSON.stringify(request.body ?? null)).digest('hex');
}

function kept(reply: FastifyReply): Record<string, string> {
  const headers: Record<string, string> = {};
  for (const name of replayed) {
    const value = reply.getHeader(name);
    if (value !== undefined) headers[name] = String(value);
  }
  return headers;
}
