import { z } from 'zod';
import { keepPhoto, LARGEST_PHOTO_BYTES } from '../../../shop/photos/keep-photo.ts';
import { deletePhoto, findPhoto, listPhotos, photoBytes } from '../../../shop/photos/photos.ts';
import { OperationKey, PhotoId } from '../../../trade/model/ids.ts';
import { Photo, PhotoType } from '../../../trade/model/photo.ts';
import { Instant } from '../../../trade/model/time.ts';
import { PanelName } from '../../../trade/model/vehicle.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey } from '../../plugins/idempotency.ts';
import { OfJob } from '../../wire/addresses.ts';
import { IfMatch, matchedVersion, matchesNone, tagOf } from '../../wire/entity-tag.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { noContent, pageOf } from '../../wire/reply.ts';

const PhotoReply = onTheWire(Photo);
const OfPhoto = OfJob.extend({ photoId: PhotoId });

/** A photograph is kept or thrown away, never changed: its only version. */
const VERSION = 1;

const PhotoQuery = onTheWire(
  z.object({
    clientId: z
      .string()
      .min(8)
      .max(64)
      .describe('Made by the device, new for each picture; sent twice it is one picture.'),
    operation: OperationKey.nullable().default(null),
    panel: PanelName.nullable().default(null),
    note: z.string().max(500).default(''),
    takenAt: Instant.nullable().default(null),
  }),
);

/** Photographs of a car: kept with its job, and with the operation or panel they show. */
export async function photoRoutes(app: Api, deps: ApiDeps): Promise<void> {
  const tags = ['photos'];

  app.get(
    '/jobs/:jobId/photos',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'listPhotos',
        summary: 'Photographs of a car, in the order they were taken',
        tags,
        params: OfJob,
        response: { 200: pageOf(Photo), ...problemReplies('not-found') },
      },
    },
    async (request) => ({ items: await listPhotos(deps.shop, request.params), nextCursor: null }),
  );

  app.get(
    '/jobs/:jobId/photos/:photoId',
    {
      config: { needs: 'see' },
      schema: {
        operationId: 'getPhoto',
        summary: 'The picture itself',
        tags,
        params: OfPhoto,
        response: {
          200: {
            description: 'The picture, as it was sent.',
            content: Object.fromEntries(PhotoType.options.map((type) => [type, { schema: z.any() }])),
          },
          304: noContent,
          ...problemReplies('not-found'),
        },
      },
    },
    async (request, reply) => {
      const photo = await findPhoto(deps.shop, request.params);
      const tag = `"${photo.sha256}"`;
      reply.header('etag', tag).header('cache-control', 'private, max-age=31536000, immutable');
      if (!matchesNone(request.headers['if-none-match'], tag)) return reply.code(304).send(undefined);
      const bytes = await photoBytes(deps.shop, request.params);
      return reply.type(photo.type).header('content-disposition', 'inline').send(Buffer.from(bytes));
    },
  );

  app.delete(
    '/jobs/:jobId/photos/:photoId',
    {
      config: { needs: 'work' },
      schema: {
        operationId: 'deletePhoto',
        summary: 'Throw a photograph away; If-Match is "1" or *, since it never changes',
        tags,
        params: OfPhoto,
        headers: IfMatch,
        response: { 204: noContent, ...problemReplies('not-found', 'stale', 'precondition-required') },
      },
    },
    async (request, reply) => {
      await findPhoto(deps.shop, request.params);
      matchedVersion(request, 'photograph', VERSION);
      await deletePhoto(deps.shop, request.params);
      return reply.code(204).send(undefined);
    },
  );

  await app.register(async (scope) => {
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser(
      [...PhotoType.options],
      { parseAs: 'buffer', bodyLimit: LARGEST_PHOTO_BYTES },
      async (_request: unknown, body: Buffer) => body,
    );
    (scope as Api).post(
      '/jobs/:jobId/photos',
      {
        bodyLimit: LARGEST_PHOTO_BYTES,
        config: { needs: 'work' },
        schema: {
          operationId: 'keepPhoto',
          summary: 'Keep a photograph of a car: JPEG, PNG or WebP, at most 8 MiB; the same picture twice is one',
          tags,
          consumes: [...PhotoType.options],
          params: OfJob,
          querystring: PhotoQuery,
          headers: IdempotencyKey,
          body: z.instanceof(Uint8Array, { error: 'must be a picture' }),
          response: { 200: PhotoReply, 201: PhotoReply, ...problemReplies(...ofPost, 'wrong-state') },
        },
      },
      async (request, reply) => {
        const { photo, fresh } = await keepPhoto(deps.shop, {
          ...request.params,
          ...request.query,
          bytes: request.body,
        });
        const { shopId, jobId } = request.params;
        return reply
          .code(fresh ? 201 : 200)
          .header('location', `/v1/shops/${shopId}/jobs/${jobId}/photos/${photo.id}`)
          .header('etag', tagOf(VERSION))
          .send(photo);
      },
    );
  });
}
