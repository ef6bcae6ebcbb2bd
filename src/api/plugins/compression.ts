import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';
import type { FastifyInstance } from 'fastify';

/** Replies below so many bytes arrive no sooner for being compressed: they fit the first packets as they are. */
const WORTH_COMPRESSING = 1_400;
/** A fifth of the work of the densest form for nearly its size, since it is done anew for each reply. */
const BROTLI_QUALITY = 4;

const brotliText = promisify(brotliCompress);
const gzipText = promisify(gzip);

const codings = {
  br: (text: string) => brotliText(text, { params: { [constants.BROTLI_PARAM_QUALITY]: BROTLI_QUALITY } }),
  gzip: (text: string) => gzipText(text),
};

/**
 * What is read is sent compressed to whoever takes that (RFC 9110, 8.4 and 12.5.3), off the thread that serves. A reply with a
 * strong tag is sent as it is: the same tag may not stand for two forms of it (RFC 9110, 8.8.1).
 */
export function compression(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload) => {
    if (request.method !== 'GET' || reply.statusCode !== 200) return payload;
    if (typeof payload !== 'string' || payload.length < WORTH_COMPRESSING) return payload;
    if (reply.hasHeader('content-encoding') || !isWeak(reply.getHeader('etag'))) return payload;
    reply.header('vary', [reply.getHeader('vary'), 'Accept-Encoding'].filter(Boolean).join(', '));
    const coding = codingFor(request.headers['accept-encoding']);
    if (coding === null) return payload;
    reply.header('content-encoding', coding).removeHeader('content-length');
    return codings[coding](payload);
  });
}

const isWeak = (tag: unknown) => tag === undefined || String(tag).startsWith('W/');

/** The densest coding that the reader names and does not refuse with `q=0`; null when none. */
function codingFor(accepted: string | string[] | undefined): keyof typeof codings | null {
  const taken = String(accepted ?? '')
    .split(',')
    .map((each) =>
      each
        .trim()
        .toLowerCase()
        .split(/\s*;\s*/),
    )
    .filter(([, weight]) => weight === undefined || Number(weight.replace('q=', '')) > 0)
    .map(([name]) => name);
  return (['br', 'gzip'] as const).find((each) => taken.includes(each)) ?? null;
}
