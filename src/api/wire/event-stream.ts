import type { ServerResponse } from 'node:http';
import type { FastifyReply } from 'fastify';
import type { Api } from '../api.ts';

/** A stream of server-sent events that is being written. */
export interface EventStream {
  readonly raw: ServerResponse;
  /** Aborted when the reader leaves or the service closes; `end` does it too. */
  readonly ended: AbortController;
  end(): void;
}

/**
 * Opens streams of server-sent events (WHATWG HTML, 9.2) in place of ordinary replies; when the service closes, those still
 * open are told to end.
 */
export function eventStreams(app: Api): (reply: FastifyReply) => EventStream {
  const open = new Set<AbortController>();
  app.addHook('preClose', async () => {
    for (const each of open) each.abort();
  });
  return (reply) => {
    const ended = new AbortController();
    open.add(ended);
    reply.hijack();
    const { raw } = reply;
    raw.on('close', () => ended.abort());
    for (const [name, value] of Object.entries(reply.getHeaders())) if (value !== undefined) raw.setHeader(name, value);
    raw.writeHead(200, {
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
    });
    return {
      raw,
      ended,
      end: () => {
        open.delete(ended);
        raw.end();
      },
    };
  };
}
