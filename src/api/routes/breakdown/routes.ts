import { z } from 'zod';
import { jobBreakdown } from '../../../shop/breakdown/job-breakdown.ts';
import { OperationKey } from '../../../trade/model/ids.ts';
import { WorkKind } from '../../../trade/model/recipe.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfJob } from '../../wire/addresses.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { listOf, pageOf } from '../../wire/reply.ts';

export const OperationBreakdown = z.object({
  operation: OperationKey,
  kind: WorkKind,
  label: z.string(),
  minutes: z.number(),
  lines: listOf(z.object({ label: z.string(), minutes: z.number() })),
  plannedMinutes: z.number().nullable(),
  state: z.enum(['planned', 'underWay', 'paused', 'finished']),
  conditional: z.boolean(),
});

/** Why the work takes as long as it does. */
export function breakdownRoutes(app: Api, deps: ApiDeps): void {
  app.get(
    '/jobs/:jobId/breakdown',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getBreakdown',
        summary: 'Why 3 h 40: the lines that each operation of an open job adds up from',
        tags: ['jobs'],
        params: OfJob,
        response: { 200: pageOf(OperationBreakdown), ...problemReplies('not-found', 'wrong-state') },
      },
    },
    async (request) => ({ items: await jobBreakdown(deps.shop, request.params), nextCursor: null }),
  );
}
