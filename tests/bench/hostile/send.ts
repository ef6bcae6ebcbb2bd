import { Agent, request } from 'node:http';
import type { Replied } from './judge-reply.ts';
import type { Asked } from './make-request.ts';

/** Longer than any answer takes on a busy machine; then it counts as hung. */
const HUNG_MS = 60_000;
/** Of a reply that never ends, what is read before the caller has had enough. */
const ENDLESS_BYTES = 1;

export type Sent = Replied | { readonly status: 0; readonly why: string };

/** Sends requests over connections that are kept. */
export function sender(port: number): { send(asked: Asked): Promise<Sent>; close(): void } {
  const agent = new Agent({ keepAlive: true, maxSockets: 4 });
  const send = (asked: Asked) =>
    new Promise<Sent>((resolve) => {
      const { method, url: path, headers, body } = asked;
      const length = body === undefined ? {} : { 'content-length': String(Buffer.byteLength(body)) };
      const sending = request({ agent, port, host: '127.0.0.1', method, path, headers: { ...headers, ...length } });
      const giveUp = setTimeout(() => {
        sending.destroy();
        resolve({ status: 0, why: `hung for ${HUNG_MS} ms` });
      }, HUNG_MS);
      const done = (sent: Sent) => {
        clearTimeout(giveUp);
        resolve(sent);
      };
      sending.on('error', (error: NodeJS.ErrnoException) => done({ status: 0, why: error.code ?? error.message }));
      sending.on('response', (reply) => {
        const pieces: Buffer[] = [];
        const told = () =>
          done({
            status: reply.statusCode ?? 0,
            type: reply.headers['content-type'] ?? '',
            headers: reply.headers,
            body: Buffer.concat(pieces).toString('utf8'),
          });
        reply.on('data', (piece: Buffer) => {
          pieces.push(piece);
          if (asked.operation.endless && (reply.statusCode ?? 0) < 400 && pieces.length >= ENDLESS_BYTES) {
            told();
            reply.destroy();
          }
        });
        reply.on('end', told);
        reply.on('error', (error) => done({ status: 0, why: error.message }));
      });
      sending.end(body);
    });
  return { send, close: () => agent.destroy() };
}
