import { isIPv4, isIPv6 } from 'node:net';
import type { FastifyBaseLogger, FastifyRequest } from 'fastify';
import { type Loggable, loggable } from '../../private-log.ts';

/** Identifiers that the server made; whatever else stands in an address may be anything. */
const MADE_HERE = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;
const SHOP = /^[A-Za-z0-9_-]{1,64}$/;

type LoggedRequest = Pick<FastifyRequest, 'method' | 'ip' | 'params' | 'routeOptions'>;

/**
 * A logger that writes of a request its method, the route's pattern with the identifiers that the server made, and the
 * network it came from: enough to find it by its request id, and nothing of what was asked, by whom, or with which secret.
 */
export function logPrivately(logger: FastifyBaseLogger): FastifyBaseLogger {
  return logger.child(
    {},
    {
      serializers: {
        req: (request: LoggedRequest) => ({
          method: request.method,
          url: addressOf(request),
          network: networkOf(request.ip ?? ''),
        }),
      },
    },
  );
}

/** An error of a request as it may be logged: without what the request itself brought. */
export function loggableOf(error: unknown, request: FastifyRequest): Loggable {
  const { body, query, params } = request;
  return loggable(error, wordsIn([body, query, params]));
}

function addressOf({ params, routeOptions }: LoggedRequest): string {
  const given = (params ?? {}) as Readonly<Record<string, string>>;
  return (routeOptions?.url ?? '[unknown]').replace(/:(\w+)/g, (pattern, name: string) => {
    const value = given[name] ?? '';
    return (name === 'shopId' ? SHOP : MADE_HERE).test(value) ? value : pattern;
  });
}

/** The first 24 bits of an IPv4 address, 48 of an IPv6 address. */
export function networkOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, '');
  if (isIPv4(plain)) return plain.replace(/\.\d+$/, '.0/24');
  if (!isIPv6(plain)) return '';
  const [head = ''] = plain.split('::');
  const groups = head.split(':').filter((group) => group !== '');
  return `${groups.slice(0, 3).join(':')}::/48`;
}

const SHORTEST_WORD = 3;
const MOST_WORDS = 500;

/** Every text in a value of plain data. */
function wordsIn(value: unknown): string[] {
  const words = new Set<string>();
  const open: unknown[] = [value];
  while (open.length > 0 && words.size < MOST_WORDS) {
    const next = open.pop();
    if (typeof next === 'string') {
      if (next.length >= SHORTEST_WORD) words.add(next);
    } else if (typeof next === 'object' && next !== null && !ArrayBuffer.isView(next)) {
      open.push(...Object.values(next));
    }
  }
  return [...words];
}
