import type { FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { ShopId } from '../../../trade/model/ids.ts';
import type { Api } from '../../api.ts';
import { OfShop } from '../../wire/addresses.ts';
import { asCsv, csvReply } from '../../wire/csv.ts';
import { problemReplies } from '../../wire/problem-replies.ts';

/** A part of some figures as rows with named columns. */
export interface FiguresTable<Figures> {
  readonly path: string;
  readonly operationId: string;
  readonly summary: string;
  /** Name of the file, without its ending. */
  readonly file: (figures: Figures) => string;
  readonly columns: readonly string[];
  readonly rows: (figures: Figures) => readonly object[];
}

export interface FiguresRoute<Query extends z.ZodObject, Figures> {
  readonly path: string;
  readonly operationId: string;
  readonly summary: string;
  readonly querystring: Query;
  /** The reply on the wire. */
  readonly reply: z.ZodType;
  readonly read: (asked: {
    readonly shopId: ShopId;
    readonly zone: string;
    readonly query: z.output<Query>;
    readonly signal: AbortSignal;
  }) => Promise<Figures>;
  readonly tables: readonly FiguresTable<Figures>[];
}

/** Figures for the owner, and their tables as CSV beside them: one reading, one schema of the address, one permission. */
export function figuresRoute<Query extends z.ZodObject, Figures>(app: Api, route: FiguresRoute<Query, Figures>): void {
  const { path, operationId, summary, querystring, reply: replySchema, read, tables } = route;
  const shared = { tags: ['utilisation'], params: OfShop, querystring };
  const problems = problemReplies('not-found', 'busy');
  const readFor = async (request: FastifyRequest, reply: FastifyReply): Promise<Figures> => {
    const left = new AbortController();
    reply.raw.once('close', () => left.abort());
    const query = request.query as z.output<Query>;
    return read({ shopId: request.shopId, zone: request.zone, query, signal: left.signal });
  };

  app.get(
    path,
    {
      config: { needs: 'figures' },
      schema: { ...shared, operationId, summary, response: { 200: replySchema, ...problems } },
    },
    async (request, reply) => readFor(request, reply as never),
  );
  for (const table of tables) {
    app.get(
      table.path,
      {
        config: { needs: 'figures' },
        schema: {
          ...shared,
          operationId: table.operationId,
          summary: table.summary,
          response: { 200: csvReply, ...problems },
        },
      },
      async (request, reply) => {
        const figures = await readFor(request, reply as never);
        reply.type('text/csv; charset=utf-8');
        reply.header('content-disposition', `attachment; filename="${table.file(figures)}.csv"`);
        return reply.send(asCsv(table.columns as never, table.rows(figures)));
      },
    );
  }
}
