import { z } from 'zod';
import { BookingRequest } from '../../../shop/booking/booking-request.ts';
import { quote } from '../../../shop/booking/quote.ts';
import { JobId } from '../../../trade/model/ids.ts';
import { PlannedOperation, PlannedStay } from '../../../trade/model/plan.ts';
import { Instant } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { OfShop } from '../../wire/addresses.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { problemReplies } from '../../wire/problem-replies.ts';
import { listOf } from '../../wire/reply.ts';

const QuoteChoice = z.object({
  why: z.enum(['soonest', 'movingOthers', 'wantedDay', 'laterDay', 'shortestStay', 'fewestBayHours']),
  dropOffAt: Instant,
  readyAt: Instant,
  pickupAt: Instant,
  confidencePercent: z.number(),
  priceMinor: z.int(),
  operations: listOf(PlannedOperation),
  stays: listOf(PlannedStay),
  displaces: listOf(
    z.object({
      jobId: JobId,
      car: z.string(),
      startMinutes: z.number(),
      readyMinutes: z.number(),
      operations: z.int(),
    }),
  ).describe(
    'Cars whose work gives way, and by how many minutes it begins and is ready later. Nothing told to their customers changes, and no promise is broken.',
  ),
});

export const QuoteReply = onTheWire(
  z.object({
    choices: listOf(QuoteChoice),
    currency: z.string(),
    advice: listOf(z.string()),
    planVersion: z.int(),
  }),
);

/** Quotes: slots that hold a car without moving a promise. */
export function quoteRoutes(app: Api, deps: ApiDeps): void {
  app.post(
    '/quotes',
    {
      config: { needs: 'book', computesOnly: true },
      schema: {
        operationId: 'quote',
        summary: 'A few slots for a car, with price and pickup times; nothing is kept',
        tags: ['quotes'],
        params: OfShop,
        body: onTheWire(BookingRequest),
        response: {
          200: QuoteReply,
          ...problemReplies(
            'not-found',
            'refused',
            'nothing-fits',
            'busy',
            'malformed-json',
            'too-large',
            'unsupported-media-type',
          ),
        },
      },
    },
    async (request) => quote(deps.shop, { shopId: request.params.shopId, request: request.body }),
  );
}
