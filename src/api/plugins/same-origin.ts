import type { FastifyInstance } from 'fastify';
import { ApiProblem } from '../wire/problem.ts';

const SAFE: ReadonlySet<string> = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Refuses changes that another site has a browser send in its visitor's name (OWASP ASVS 4.0, 4.2.2 and 13.2.3). Browsers say
 * where a request comes from: by `Sec-Fetch-Site`, older ones by `Origin` on every POST. The cookies are SameSite=Strict
 * besides. Programs say neither and bring no cookie.
 */
export function sameOrigin(app: FastifyInstance): void {
  app.addHook('onRequest', async (request) => {
    if (SAFE.has(request.method) || request.routeOptions.config.secretInAddress) return;
    const site = request.headers['sec-fetch-site'];
    const { origin } = request.headers;
    const elsewhere =
      site === undefined
        ? origin !== undefined && hostOf(origin) !== request.headers.host
        : site !== 'same-origin' && site !== 'none';
    if (elsewhere) {
      throw new ApiProblem('not-allowed', 'A change is sent from this server’s own pages or by a program.', [
        { in: 'header', field: site === undefined ? '/origin' : '/sec-fetch-site', message: 'names another site' },
      ]);
    }
  });
}

function hostOf(origin: string): string | null {
  return URL.canParse(origin) ? new URL(origin).host : null;
}
