import { z } from 'zod';
import { listReadings, recordReadings } from '../../../shop/conditions/record-readings.ts';
import { AirZoneId } from '../../../trade/model/ids.ts';
import { ConditionsReading } from '../../../trade/model/readings.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfShop } from '../../wire/addresses.ts';
import { DayQuery, stretchOf, todayIn } from '../../wire/local-day.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { PageQuery, pageBy } from '../../wire/page.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { listOf, pageOf } from '../../wire/reply.ts';

/** Air and panel conditions, measured and forecast. */
export function readingRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['conditions'];

  app.get(
    '/readings',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listReadings',
        summary: 'Readings and forecasts of a day, oldest first',
        tags,
        params: OfShop,
        querystring: PageQuery.extend(DayQuery.shape).extend({
          airZoneId: AirZoneId.optional(),
          source: ConditionsReading.shape.source.optional(),
        }),
        response: { 200: pageOf(ConditionsReading), ...problemReplies('not-found') },
      },
    },
    async (request) => {
      const { day = todayIn(request.zone, deps.shop.clock()), airZoneId, source, ...page } = request.query;
      const all = await listReadings(deps.shop, { ...request.params, ...stretchOf(day, request.zone) });
      const asked = all
        .filter((reading) => airZoneId === undefined || reading.airZoneId === airZoneId)
        .filter((reading) => source === undefined || reading.source === source);
      const keyed = asked.map((reading, at) => ({ reading, key: keyOf(reading, at) }));
      const { items, nextCursor } = pageBy(keyed, (each) => each.key, page);
      return { items: items.map((each) => each.reading), nextCursor };
    },
  );

  app.post(
    '/readings',
    {
      config: { needs: 'work' },
      schema: {
        operationId: 'recordReadings',
        summary: 'Record measured or forecast conditions; the reply names planned coatings they do not allow',
        tags,
        params: OfShop,
        headers: IdempotencyKey,
        body: onTheWire(z.object({ readings: z.array(ConditionsReading).min(1).max(500) })),
        response: {
          201: z.object({ recorded: z.int(), against: listOf(z.string()) }),
          ...problemReplies(...ofPost),
        },
      },
    },
    async (request, reply) => {
      const { shopId } = request.params;
      const done = await recordReadings(deps.shop, { shopId, readings: request.body.readings });
      return reply.code(201).send(done);
    },
  );
}

function keyOf(reading: ConditionsReading, at: number): string {
  return `${String(reading.at).padStart(16, '0')} ${String(at).padStart(6, '0')}`;
}
