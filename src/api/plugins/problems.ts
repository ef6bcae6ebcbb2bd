import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import { inZone } from '../wire/in-zone.ts';
import { ApiProblem, ProblemDetails } from '../wire/problem.ts';
import { loggableOf } from './log-privately.ts';
import { problemOf } from './problem-of.ts';

/** What passes by itself has often passed by then. */
const RETRY_AFTER_SECONDS = '3';

/** Sends a problem, with instants in the shop's zone where the request has one. */
async function sendProblem(reply: FastifyReply, problem: ProblemDetails, zone: string): Promise<FastifyReply> {
  return reply
    .code(problem.status)
    .header('cache-control', 'no-store')
    .type('application/problem+json')
    .serializer((payload: unknown) => payload as string)
    .send(JSON.stringify(z.encode(inZone(ProblemDetails, zone), problem)));
}

/** Answers errors, unknown addresses and unknown methods with problem details. */
export function problems(app: FastifyInstance, methodsOf: (path: string) => readonly string[]): void {
  app.setErrorHandler(async (error, request, reply) => {
    const problem = problemOf(error, request);
    if (problem.status === 503) reply.header('retry-after', RETRY_AFTER_SECONDS);
    if (problem.status >= 500) request.log.error({ err: loggableOf(error, request) }, 'request failed');
    return sendProblem(reply, problem, request.zone);
  });
  app.setNotFoundHandler(async (request, reply) => {
    const allowed = methodsOf(request.url.split('?')[0] ?? '/');
    if (allowed.length === 0) throw new ApiProblem('not-found', 'There is nothing at this address.');
    reply.header('allow', allowed.join(', '));
    throw new ApiProblem('method-not-allowed', `${request.method} is not allowed here; ${allowed.join(', ')} is.`);
  });
}
