import { z } from 'zod';
import { listAudit } from '../../../shop/access/audit.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { pageOf } from '../../wire/reply.ts';
import { Change } from './change.ts';

/** The trail of changes. */
export function auditRoutes(app: Api, deps: ApiDeps): void {
  app.get(
    '/audit',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'listAudit',
        summary: 'Who changed what, from what to what; newest first',
        tags: ['access'],
        params: OfShop,
        querystring: z.object({
          kind: z.string().max(40).optional().describe('`job`, `floorEvent`, `plan`, `place`, `account` and so on.'),
          subject: z.string().max(96).optional().describe('Identifier of what was changed.'),
          cursor: z.string().max(64).optional().describe('`nextCursor` of the page before.'),
          limit: z.coerce.number().int().min(1).max(200).default(50),
        }),
        response: { 200: pageOf(Change), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { cursor, kind, subject, limit } = request.query;
      return listAudit(deps.shop, {
        shopId: request.params.shopId,
        limit,
        ...(kind === undefined ? {} : { kind }),
        ...(subject === undefined ? {} : { subject }),
        ...(cursor === undefined ? {} : { beforeId: cursor }),
      });
    },
  );
}
