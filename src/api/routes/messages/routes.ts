import { z } from 'zod';
import { findLink, reissueLink, revokeLink } from '../../../shop/customer/customer-link.ts';
import type { CustomerDeps } from '../../../shop/customer/deps.ts';
import { listMessages } from '../../../shop/messages/list-messages.ts';
import { sendMessage } from '../../../shop/messages/send-message.ts';
import { MessageKind, MessageState } from '../../../trade/model/customer-message.ts';
import { Instant } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfJob } from '../../wire/addresses.ts';
import { IfMatch, matchedVersion, tagOf } from '../../wire/entity-tag.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';

const Link = z.object({
  url: z.string().nullable().describe('Null when it is revoked, or when none was issued yet.'),
  generation: z.int(),
  issuedAt: Instant.nullable(),
  revokedAt: Instant.nullable(),
});

const Line = z.object({
  kind: MessageKind,
  name: z.string(),
  applies: z.boolean().describe('Whether it fits how things stand now; one that does not cannot be sent.'),
  subject: z.string(),
  text: z.string(),
  state: z.enum([...MessageState.options, 'notSent']),
  attempts: z.int(),
  changedAt: Instant.nullable(),
  dueAt: Instant.nullable(),
  fault: z.string(),
});

export const LinkReply = onTheWire(Link);
// Replies to an Idempotency-Key are kept: these two do not carry the link.
export const LinkIssuedReply = onTheWire(Link.omit({ url: true }));
export const MessageSentReply = onTheWire(Line.omit({ subject: true, text: true }));
export const MessagesReply = onTheWire(
  z.object({ mail: z.object({ on: z.boolean(), reason: z.string() }), link: Link, items: listOf(Line) }),
);

/** What is written to a job's customer, and the link to the page that is theirs. */
export function messageRoutes(app: Api, customers: CustomerDeps): void {
  const config = { needs: 'book' } as const;
  const tags = ['messages'];
  const link = '/jobs/:jobId/customer-link';

  app.get(
    '/jobs/:jobId/messages',
    {
      config,
      schema: {
        operationId: 'listMessages',
        summary:
          'Every text for the customer, ready to copy or send, and what became of it; the link is issued with it',
        tags,
        params: OfJob,
        response: { 200: MessagesReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      // It holds the link.
      reply.header('cache-control', 'no-store');
      return listMessages(customers, request.params);
    },
  );

  app.post(
    '/jobs/:jobId/messages/:kind/send',
    {
      config,
      schema: {
        operationId: 'sendMessage',
        summary: 'Mail one of the texts; it is sent once, unless `again` says otherwise',
        tags,
        params: OfJob.extend({ kind: MessageKind }),
        headers: IdempotencyKey,
        body: z.object({ again: z.boolean().default(false) }),
        response: { 202: MessageSentReply, ...problemReplies(...ofPost, 'wrong-state', 'refused') },
      },
    },
    async (request, reply) => {
      const line = await sendMessage(customers, { ...request.params, again: request.body.again });
      const { subject: _, text: __, ...sent } = line;
      return reply.code(202).send(sent);
    },
  );

  app.get(
    link,
    {
      config,
      schema: {
        operationId: 'getCustomerLink',
        summary: "The link to the customer's page, if there is one",
        tags,
        params: OfJob,
        response: { 200: LinkReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const found = await findLink(customers, request.params);
      return reply.header('cache-control', 'no-store').header('etag', tagOf(found.generation)).send(found);
    },
  );

  app.post(
    link,
    {
      config,
      schema: {
        operationId: 'reissueCustomerLink',
        summary: 'A new link, to be read with GET; the one before opens nothing any more',
        tags,
        params: OfJob,
        headers: IdempotencyKey,
        response: { 201: LinkIssuedReply, ...problemReplies(...ofPost, 'stale') },
      },
    },
    async (request, reply) => {
      const { url: _, ...issued } = await reissueLink(customers, request.params);
      return reply.code(201).header('etag', tagOf(issued.generation)).send(issued);
    },
  );

  app.delete(
    link,
    {
      config,
      schema: {
        operationId: 'revokeCustomerLink',
        summary: 'The link opens nothing any more, until a new one is issued',
        tags,
        params: OfJob,
        headers: IfMatch,
        response: { 200: LinkReply, ...problemReplies('not-found', 'stale', 'precondition-required') },
      },
    },
    async (request, reply) => {
      const { generation } = await findLink(customers, request.params);
      matchedVersion(request, 'link', generation);
      const revoked = await revokeLink(customers, { ...request.params, generation });
      return reply.header('etag', tagOf(revoked.generation)).send(revoked);
    },
  );
}
