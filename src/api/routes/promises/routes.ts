import { z } from 'zod';
import { promiseOutlook } from '../../../shop/promises/at-risk.ts';
import type { PromiseOutlook } from '../../../shop/promises/promise-views.ts';
import { JobId } from '../../../trade/model/ids.ts';
import { Instant, LocalDate } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { stretchOf } from '../../wire/local-day.ts';
import { PageQuery, pageByPosition } from '../../wire/page.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { pageOf } from '../../wire/reply.ts';

export const PromiseLine = z.object({
  jobId: JobId,
  car: z.string(),
  customer: z.string(),
  promisedPickupAt: Instant,
  plannedReadyAt: Instant,
  slackMinutes: z.int(),
  probabilityPercent: z.number(),
  atRisk: z.boolean(),
});

/** Promises still to be kept. */
export function promiseRoutes(app: Api, deps: ApiDeps): void {
  app.get(
    '/promises',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listPromises',
        summary: 'Promises still to be kept, most endangered first',
        tags: ['promises'],
        params: OfShop,
        querystring: PageQuery.extend({
          day: LocalDate.optional().describe("Only pickups promised for this day in the shop's zone."),
          state: z.enum(['atRisk', 'all']).default('all'),
        }),
        response: { 200: pageOf(PromiseLine), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { day, state, ...page } = request.query;
      const stretch = day === undefined ? null : stretchOf(day, request.zone);
      const asked = (outlook: PromiseOutlook) =>
        (state === 'all' || outlook.atRisk) &&
        (stretch === null || (outlook.promisedPickupAt >= stretch.from && outlook.promisedPickupAt < stretch.to));
      const outlooks = (await promiseOutlook(deps.shop, request.params)).filter(asked);
      return pageByPosition(outlooks, (outlook) => outlook.jobId, page);
    },
  );
}
