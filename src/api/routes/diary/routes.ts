import { z } from 'zod';
import { DIARY_COLUMNS } from '../../../shop/import/diary-columns.ts';
import { importDiary } from '../../../shop/import/import-diary.ts';
import { JobId } from '../../../trade/model/ids.ts';
import { Instant } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfShop } from '../../wire/addresses.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ApiProblem, pointer } from '../../wire/problem.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { listOf, pageOf } from '../../wire/reply.ts';

const diaryLimitBytes = 5 * 1024 * 1024;

export const DiaryReply = onTheWire(
  z.object({
    dryRun: z.boolean(),
    lines: z.int(),
    faults: listOf(z.object({ line: z.int(), column: z.string(), text: z.string() })),
    jobs: listOf(
      z.object({
        line: z.int(),
        jobId: JobId.nullable(),
        customer: z.string(),
        promisedPickupAt: Instant.nullable(),
        plannedReadyAt: Instant.nullable(),
        kept: z.boolean(),
      }),
    ),
    cannotKeep: z.int(),
  }),
);

/** A paper or spreadsheet diary, brought in as CSV. */
export async function diaryRoutes(app: Api, deps: ApiDeps): Promise<void> {
  app.get(
    '/diary-imports/columns',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listDiaryColumns',
        summary: 'The columns a diary may have',
        tags: ['diary'],
        params: OfShop,
        response: {
          200: pageOf(z.object({ name: z.string(), required: z.boolean(), meaning: z.string() })),
          ...problemReplies('not-found'),
        },
      },
    },
    async () => ({ items: DIARY_COLUMNS, nextCursor: null }),
  );

  await app.register(async (scope) => {
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser(
      'text/csv',
      { parseAs: 'string', bodyLimit: diaryLimitBytes },
      async (_request: unknown, body: string) => body,
    );

    (scope as Api).post(
      '/diary-imports',
      {
        bodyLimit: diaryLimitBytes,
        config: { needs: 'setUp' },
        schema: {
          operationId: 'importDiary',
          summary:
            'Bring in a diary as CSV, whole or not at all; a dry run only reports which promises a plan can keep',
          tags: ['diary'],
          consumes: ['text/csv'],
          params: OfShop,
          querystring: z.object({ dryRun: z.enum(['true', 'false']).default('false') }),
          headers: IdempotencyKey,
          body: z.string({ error: 'must be CSV text' }).min(1, 'must not be empty'),
          response: {
            200: DiaryReply,
            201: DiaryReply,
            ...problemReplies(...ofPost, 'refused', 'busy'),
          },
        },
      },
      async (request, reply) => {
        const { shopId } = request.params;
        const dryRun = request.query.dryRun === 'true';
        const report = await importDiary(deps.shop, { shopId, csv: request.body, dryRun });
        if (!dryRun && report.faults.length > 0) {
          throw new ApiProblem(
            'refused',
            `Nothing was imported: ${report.faults.length} faults in the diary.`,
            report.faults.map(({ line, column, text }) => ({
              in: 'body',
              field: pointer([`line ${line}`, column]),
              message: text,
            })),
          );
        }
        return reply.code(dryRun ? 200 : 201).send(report);
      },
    );
  });
}
