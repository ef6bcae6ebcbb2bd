import type { FastifyBaseLogger } from 'fastify';

/** Secrets that stand in addresses: the token of a customer's page. */
const SECRET_PART = /^(\/visit\/)[^/?#]+/;

/** An address as it may be logged. */
export function withoutSecret(url: string): string {
  return url.replace(SECRET_PART, '$1[token]');
}

interface LoggedRequest {
  readonly method?: string;
  readonly url?: string;
  readonly host?: string;
  readonly ip?: string;
}

/** A logger that writes the same of a request as Fastify's own, with no secret in its address. */
export function withoutSecretAddresses(logger: FastifyBaseLogger): FastifyBaseLogger {
  return logger.child(
    {},
    {
      serializers: {
        req: ({ method, url, host, ip }: LoggedRequest) => ({
          method,
          url: withoutSecret(url ?? ''),
          host,
          remoteAddress: ip,
        }),
      },
    },
  );
}
