import formbody from '@fastify/formbody';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { JSX } from 'preact';
import { z } from 'zod';
import { answerQuestion } from '../../../shop/customer/answer-question.ts';
import type { CustomerDeps } from '../../../shop/customer/deps.ts';
import { openVisit } from '../../../shop/customer/open-visit.ts';
import { visitCalendar } from '../../../shop/customer/visit-calendar.ts';
import type { ShopDeps } from '../../../shop/deps.ts';
import { WrongState } from '../../../shop/problems/problems.ts';
import { Instant } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import { loggableOf } from '../../plugins/log-privately.ts';
import { problemOf } from '../../plugins/problem-of.ts';
import { asCalendar } from '../../wire/as-calendar.ts';
import { pageFrame } from './page-frame.ts';
import { pageWords as words } from './page-words.ts';
import { sayingPage, visitPage } from './visit-page.ts';

/** A form sends text. */
const Answer = z.object({
  answer: z.enum(['approved', 'declined']),
  answerBy: z.coerce.number().pipe(Instant),
  priceMinor: z.coerce.number().int().nonnegative(),
});

/** Light, against guessing and reloading without end: 192 bits are not guessed at any rate. */
const rateLimit = { max: 60, timeWindow: '1 minute' };

interface OfToken {
  readonly Params: { readonly token: string };
}

/**
 * The customer's page at `/visit/{token}`: HTML from the server, no script, no cookie. Whoever holds the token is the
 * customer; nobody else's page keeps it, nothing it links to hears of it, and no search engine lists it.
 */
export async function customerRoutes(
  app: Api,
  deps: CustomerDeps & Pick<ShopDeps, 'replanner'>,
  webRoot: string | undefined,
): Promise<void> {
  const frame = await pageFrame(webRoot);
  const config = { needs: 'open', secretInAddress: true, rateLimit } as const;
  const hidden = { hide: true } as object;

  await app.register(async (scope) => {
    await scope.register(formbody, { bodyLimit: 4_096 });

    scope.addHook('onSend', async (_request, reply, payload) => {
      reply.header('x-robots-tag', 'noindex, nofollow').header('referrer-policy', 'no-referrer');
      return payload;
    });

    const page = (reply: FastifyReply, status: number, title: string, main: JSX.Element) =>
      reply.code(status).type('text/html; charset=utf-8').header('cache-control', 'no-store').send(frame(title, main));
    const saying = (reply: FastifyReply, status: number, text: { heading: string; text: string }) =>
      page(reply, status, text.heading, sayingPage(text.heading, text.text));

    scope.setErrorHandler(async (error, request, reply) => {
      const { status, detail } = problemOf(error, request);
      if (status === 429) return saying(reply, 429, words.told.tooMany);
      if (status >= 500) {
        request.log.error({ err: loggableOf(error, request) }, 'a customer’s page failed');
        return saying(reply, status, words.told.fault);
      }
      const { token } = request.params as OfToken['Params'];
      const back = { label: words.told.notNow.back, address: `/visit/${token}` };
      const why = error instanceof WrongState ? detail : words.told.fault.text;
      return page(reply, status, words.told.notNow.heading, sayingPage(words.told.notNow.heading, why, back));
    });

    scope.get<OfToken>('/visit/:token', { config, schema: hidden }, async (request, reply) => {
      const { token } = request.params;
      const opened = await openVisit(deps, token);
      if (opened === null) return saying(reply, 404, words.told.gone);
      const { visit } = opened;
      const main = visitPage(visit, `/visit/${token}`, deps.clock());
      return page(reply, 200, words.title(visit.car, visit.shop.name), main);
    });

    scope.get<OfToken>('/visit/:token/calendar.ics', { config, schema: hidden }, async (request, reply) => {
      const found = await visitCalendar(deps, request.params.token);
      if (found === null) return saying(reply, 404, words.told.gone);
      return reply
        .type('text/calendar; charset=utf-8')
        .header('cache-control', 'no-store')
        .header('content-disposition', 'attachment; filename="car.ics"')
        .send(asCalendar(found.calendar, found.shopId));
    });

    scope.post<OfToken>(
      '/visit/:token/answer',
      { config, schema: hidden },
      async (request: FastifyRequest<OfToken>, reply) => {
        const { token } = request.params;
        const answer = Answer.safeParse(request.body);
        if (!answer.success) throw new WrongState('Choose one of the two answers.', 'answer');
        const done = await answerQuestion(deps, { token, ...answer.data });
        if (done === null) return saying(reply, 404, words.told.gone);
        // Seen again by GET: a reload does not answer twice (RFC 9110, 15.4.4).
        return reply.code(303).header('cache-control', 'no-store').header('location', `/visit/${token}`).send();
      },
    );
  });
}
