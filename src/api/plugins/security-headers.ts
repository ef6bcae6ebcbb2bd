import helmet from '@fastify/helmet';
import type { Api } from '../api.ts';

/**
 * Security headers. Nothing here redirects to or insists on TLS: the server listens on the loopback address by default,
 * and whatever carries it further (a reverse proxy with a certificate) adds HSTS itself.
 */
export async function securityHeaders(app: Api): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: {
      directives: {
        defaultSrc: ["'self'"],
        fontSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        styleSrc: ["'self'"],
        scriptSrc: ["'self'"],
        connectSrc: ["'self'"],
        frameAncestors: ["'none'"],
        upgradeInsecureRequests: null,
      },
    },
    strictTransportSecurity: false,
  });
}
