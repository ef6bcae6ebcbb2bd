import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Authorship } from '../../shop/access/authorship.ts';
import type { Permission } from '../../shop/access/permission.ts';
import { nobody, type Principal, permissionsIn } from '../../shop/access/principal.ts';
import { NotFound } from '../../shop/problems/problems.ts';
import { ShopId } from '../../trade/model/ids.ts';
import { ApiProblem } from '../wire/problem.ts';

/**
 * What a route needs of whoever asks: a permission in the shop addressed; `signedIn`, somebody; `administrator`, who
 * administers the server; `open`, nothing, because it tells nothing or brings a secret of its own.
 */
export type Need = Permission | 'signedIn' | 'administrator' | 'open';

/** Tells who sends a request. */
export type PrincipalOf = (request: FastifyRequest) => Promise<Principal>;

/**
 * Lets a request pass only when whoever sends it may. Every route under `/v1` says in `config.needs` what that takes; one
 * that does not is refused when it is added, so none can be forgotten. A shop that somebody does not serve looks to
 * them like one that is not there. What the request goes on to write is written in their name.
 */
export function admission(app: FastifyInstance, principalOf: PrincipalOf, authorship?: Authorship): void {
  app.decorateRequest('principal', null as never);

  app.addHook('onRoute', ({ url, method, config }) => {
    if (url.startsWith('/v1') && config?.needs === undefined) {
      throw new Error(`${method} ${url} does not say in config.needs what it takes to be allowed`);
    }
  });

  app.addHook('onRequest', async (request, reply) => {
    request.principal = await principalOf(request);
    const needs = request.routeOptions.config.needs ?? 'open';
    if (needs === 'open') return;
    // What may be told depends on who asks: nobody else's cache keeps it.
    reply.header('vary', 'Authorization, Cookie');
    const { principal } = request;
    if (principal.who === nobody.who) {
      reply.header('www-authenticate', 'Bearer realm="panelday"');
      throw new ApiProblem('not-signed-in', 'Nobody is signed in, or the session is over.');
    }
    if (needs === 'signedIn') return;
    if (needs === 'administrator') {
      if (!principal.administrator) throw new ApiProblem('not-allowed', 'Only who administers the server may do this.');
      return;
    }
    const { shopId } = request.params as { shopId?: string };
    const parsed = ShopId.safeParse(shopId);
    // What is no identifier is refused by the schema of the route, field and all.
    if (!parsed.success) return;
    const permissions = permissionsIn(principal, parsed.data);
    if (permissions.size === 0) {
      throw new NotFound('shop', parsed.data, 'shopId');
    }
    if (!permissions.has(needs)) {
      throw new ApiProblem('not-allowed', `This takes the permission "${needs}", which your role does not have.`);
    }
  });

  if (authorship !== undefined) {
    // After the body has been read, whose events belong to nobody. Not an async function: what comes after `done` runs inside.
    app.addHook('preValidation', (request, _reply, done) => {
      authorship.run({ who: request.principal.who, requestId: request.id }, done);
    });
  }
}
