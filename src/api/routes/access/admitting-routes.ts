import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import {
  AccountChange,
  addAccount,
  changeAccount,
  findAccount,
  listAccounts,
  NewAccount,
  removeAccount,
} from '../../../shop/access/accounts.ts';
import { addApiToken, NewApiToken, removeApiToken } from '../../../shop/access/api-tokens.ts';
import { addDevice, removeDevice } from '../../../shop/access/devices.ts';
import { AccountId, DeviceId, ShopId, TokenId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { keepTablet } from '../../plugins/session-cookies.ts';
import { OfShop } from '../../wire/addresses.ts';
import { IfMatch, matchedVersion, tagOf } from '../../wire/entity-tag.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ofPost, ofVersioned, problemReplies } from '../../wire/problem-replies.ts';
import { noContent, pageOf } from '../../wire/reply.ts';
import { AccountReply, NewTokenReply, TabletBody, TabletReply, TokenReply } from './schemas.ts';

const tags = ['access'];
const gone = { 204: noContent };
const OfAccount = z.object({ shopId: ShopId, accountId: AccountId });

/** Who is admitted to a shop: people, tablets, programs. */
export function admittingRoutes(app: Api, deps: ApiDeps): void {
  const { shop, whoAsks } = deps;
  const versionMeant = async (request: FastifyRequest) => {
    const { version } = await findAccount(shop, OfAccount.parse(request.params));
    return matchedVersion(request, 'account', version);
  };

  app.get(
    '/accounts',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'listAccounts',
        summary: 'People who may sign in to the shop',
        tags,
        params: OfShop,
        response: { 200: pageOf(AccountReply), ...problemReplies('not-found') },
      },
    },
    async (request) => ({ items: await listAccounts(shop, request.params), nextCursor: null }),
  );

  app.post(
    '/accounts',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'addAccount',
        summary: 'Admit somebody, with a password or with a PIN for the tablets',
        tags,
        params: OfShop,
        headers: IdempotencyKey,
        body: NewAccount,
        response: { 201: AccountReply, ...problemReplies(...ofPost) },
      },
    },
    async (request, reply) => {
      const account = await addAccount(shop, { ...request.body, shopId: request.params.shopId });
      return reply.code(201).header('etag', tagOf(account.version)).send(account);
    },
  );

  app.patch(
    '/accounts/:accountId',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'changeAccount',
        summary: 'Change role, password, PIN, or shut somebody out; their sessions end',
        tags,
        params: OfAccount,
        headers: IfMatch,
        body: AccountChange,
        response: {
          200: AccountReply,
          ...problemReplies('not-found', 'malformed-json', 'unsupported-media-type', ...ofVersioned),
        },
      },
    },
    async (request, reply) => {
      const version = await versionMeant(request);
      const account = await changeAccount(shop, { ...request.params, change: request.body, version });
      whoAsks.forget();
      return reply.header('etag', tagOf(account.version)).send(account);
    },
  );

  app.delete(
    '/accounts/:accountId',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'removeAccount',
        summary: "Take somebody's role in the shop away",
        tags,
        params: OfAccount,
        headers: IfMatch,
        response: { ...gone, ...problemReplies('not-found', ...ofVersioned) },
      },
    },
    async (request, reply) => {
      await removeAccount(shop, { ...request.params, version: await versionMeant(request) });
      whoAsks.forget();
      return reply.code(204).send();
    },
  );

  app.get(
    '/tablets',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'listTablets',
        summary: 'Shared tablets on which PINs count',
        tags,
        params: OfShop,
        response: { 200: pageOf(TabletReply), ...problemReplies('not-found') },
      },
    },
    async (request) => ({ items: await shop.store.devices.list(request.params.shopId), nextCursor: null }),
  );

  app.post(
    '/tablets',
    {
      // Its secret goes into this browser's cookie, so the reply is of no use a second time.
      config: { needs: 'admit', computesOnly: true },
      schema: {
        operationId: 'addTablet',
        summary: 'Make the tablet that asks one of the shop’s',
        tags,
        params: OfShop,
        body: TabletBody,
        response: {
          201: onTheWire(TabletReply),
          ...problemReplies('not-found', 'malformed-json', 'unsupported-media-type'),
        },
      },
    },
    async (request, reply) => {
      const { device, secret } = await addDevice(shop, { ...request.body, shopId: request.params.shopId });
      keepTablet(request, reply, secret);
      return reply.code(201).send(device);
    },
  );

  app.delete(
    '/tablets/:deviceId',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'removeTablet',
        summary: 'Withdraw a tablet; whoever is signed in on it is signed out',
        tags,
        params: z.object({ shopId: ShopId, deviceId: DeviceId }),
        response: { ...gone, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      await removeDevice(shop, request.params);
      whoAsks.forget();
      return reply.code(204).send();
    },
  );

  app.get(
    '/api-tokens',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'listApiTokens',
        summary: 'Programs that may ask in the shop’s name',
        tags,
        params: OfShop,
        response: { 200: pageOf(TokenReply), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const tokens = await shop.store.apiTokens.list(request.params.shopId);
      return { items: tokens, nextCursor: null };
    },
  );

  app.post(
    '/api-tokens',
    {
      // A stored reply would keep the secret.
      config: { needs: 'admit', computesOnly: true },
      schema: {
        operationId: 'addApiToken',
        summary: 'Make a token for a program; its secret is told in this reply only',
        tags,
        params: OfShop,
        body: onTheWire(NewApiToken),
        response: {
          201: onTheWire(NewTokenReply),
          ...problemReplies('not-found', 'malformed-json', 'unsupported-media-type'),
        },
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      const { token, secret } = await addApiToken(shop, { ...request.body, shopId, by: request.principal });
      return reply
        .code(201)
        .header('cache-control', 'no-store')
        .send({ ...token, secret });
    },
  );

  app.delete(
    '/api-tokens/:tokenId',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'removeApiToken',
        summary: 'Withdraw a token at once',
        tags,
        params: z.object({ shopId: ShopId, tokenId: TokenId }),
        response: { ...gone, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      await removeApiToken(shop, request.params);
      whoAsks.forget();
      return reply.code(204).send();
    },
  );
}
