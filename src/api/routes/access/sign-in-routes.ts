import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Session } from '../../../shop/access/begin-session.ts';
import { demoSignIn } from '../../../shop/access/demo-sign-in.ts';
import { knownTablet } from '../../../shop/access/devices.ts';
import { me } from '../../../shop/access/me.ts';
import { changeOwnPassword } from '../../../shop/access/own-password.ts';
import { Role } from '../../../shop/access/permission.ts';
import { signIn } from '../../../shop/access/sign-in.ts';
import { signInByPin } from '../../../shop/access/sign-in-by-pin.ts';
import { signOut } from '../../../shop/access/sign-out.ts';
import { WrongState } from '../../../shop/problems/problems.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import {
  credentialsOf,
  dropSession,
  isOfThisMachine,
  keepSession,
  tabletSecretOf,
} from '../../plugins/session-cookies.ts';
import { ApiProblem } from '../../wire/problem.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { noContent } from '../../wire/reply.ts';
import { DemoBody, FirstBody, Me, OwnPasswordBody, PasswordBody, PinBody, WaysIn } from './schemas.ts';

const tags = ['access'];
const done = { 204: noContent };
/** Attempts a minute from one address, whatever the name. */
const rateLimit = { max: 20, timeWindow: '1 minute' };
const refused = problemReplies(
  'malformed-json',
  'unsupported-media-type',
  'not-signed-in',
  'not-allowed',
  'too-many',
  'wrong-state',
);

/** Sessions begin and end. */
export function signInRoutes(app: Api, deps: ApiDeps): void {
  const { shop, whoAsks, firstAdministrator: first, demoShop } = deps;
  const mayDemo = (request: FastifyRequest) => demoShop !== undefined && isOfThisMachine(request);
  /** Whoever was signed in before is signed out, so that no session outlives its cookie (ASVS 4.0, 3.2.1). */
  const begun = async (request: FastifyRequest, reply: FastifyReply, session: Session) => {
    const { session: before } = credentialsOf(request);
    if (before !== null) await signOut(shop, { secret: before });
    whoAsks.forget();
    keepSession(request, reply, session.secret);
    return reply.code(204).send();
  };

  app.get(
    '/v1/sign-ins/ways',
    {
      config: { needs: 'open' },
      schema: {
        operationId: 'waysIn',
        summary: 'How one may sign in from here',
        tags,
        response: { 200: WaysIn, ...problemReplies() },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      return {
        demoRoles: mayDemo(request) ? Role.options : [],
        firstAdministrator: (first?.secret ?? null) !== null && (await shop.store.accounts.administrators()) === 0,
        tablet: await knownTablet(shop, { secret: tabletSecretOf(request) }),
      };
    },
  );

  app.post(
    '/v1/sign-ins/password',
    {
      config: { needs: 'open', computesOnly: true, rateLimit },
      schema: {
        operationId: 'signIn',
        summary: 'Sign in by name and password',
        tags,
        body: PasswordBody,
        response: { ...done, ...refused },
      },
    },
    async (request, reply) => begun(request, reply, await signIn(shop, request.body)),
  );

  app.post(
    '/v1/sign-ins/pin',
    {
      config: { needs: 'open', computesOnly: true, rateLimit },
      schema: {
        operationId: 'signInByPin',
        summary: "Sign in by PIN, on one of the shop's tablets",
        tags,
        body: PinBody,
        response: { ...done, ...refused },
      },
    },
    async (request, reply) => {
      const deviceSecret = tabletSecretOf(request);
      return begun(request, reply, await signInByPin(shop, { ...request.body, deviceSecret }));
    },
  );

  app.post(
    '/v1/sign-ins/demo',
    {
      config: { needs: 'open', computesOnly: true, rateLimit },
      schema: {
        operationId: 'signInToDemo',
        summary: "Sign in to the invented shop, from this machine's own browser only",
        tags,
        body: DemoBody,
        response: { ...done, ...refused },
      },
    },
    async (request, reply) => {
      if (demoShop === undefined || !mayDemo(request)) {
        throw new ApiProblem(
          'not-allowed',
          'The invented shop is open to this machine’s own browser in demo mode only.',
        );
      }
      return begun(request, reply, await demoSignIn(shop, { shopId: demoShop, role: request.body.role }));
    },
  );

  app.post(
    '/v1/sign-ins/first',
    {
      config: { needs: 'open', computesOnly: true, rateLimit },
      schema: {
        operationId: 'claimServer',
        summary: 'Become the first administrator, with the secret the server printed',
        tags,
        body: FirstBody,
        response: { ...done, ...refused },
      },
    },
    async (request, reply) => {
      if (first === undefined) throw new WrongState('Somebody administers this server already; sign in.', 'secret');
      return begun(request, reply, await first.claim(request.body));
    },
  );

  app.delete(
    '/v1/sign-ins/current',
    {
      config: { needs: 'signedIn' },
      schema: {
        operationId: 'signOut',
        summary: 'Sign out',
        tags,
        response: { 204: noContent, ...problemReplies('not-signed-in') },
      },
    },
    async (request, reply) => {
      const { session } = credentialsOf(request);
      if (session !== null) await signOut(shop, { secret: session });
      whoAsks.forget();
      dropSession(request, reply);
      return reply.code(204).send();
    },
  );

  app.get(
    '/v1/me',
    {
      config: { needs: 'signedIn' },
      schema: {
        operationId: 'getMe',
        summary: 'Who is signed in, and what they may do where',
        tags,
        response: { 200: Me, ...problemReplies('not-signed-in') },
      },
    },
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      return me(request.principal, shop.store);
    },
  );

  app.put(
    '/v1/me/password',
    {
      config: { needs: 'signedIn', rateLimit },
      schema: {
        operationId: 'changeOwnPassword',
        summary: 'Change the own password; every other session of the account ends',
        tags,
        body: OwnPasswordBody,
        response: { 204: noContent, ...refused },
      },
    },
    async (request, reply) => {
      const { session } = credentialsOf(request);
      await changeOwnPassword(shop, { ...request.body, principal: request.principal, sessionSecret: session });
      whoAsks.forget();
      return reply.code(204).send();
    },
  );
}
