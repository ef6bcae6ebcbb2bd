import { Readable } from 'node:stream';
import { z } from 'zod';
import { erasePerson } from '../../../shop/personal-data/erase-person.ts';
import { exportPerson, type PersonsData } from '../../../shop/personal-data/export-person.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { IdempotencyKey, sendWithEffect } from '../../plugins/idempotency.ts';
import { OfJob } from '../../wire/addresses.ts';
import { inZone } from '../../wire/in-zone.ts';
import { ofPost, problemReplies } from '../../wire/problem-replies.ts';
import { BookingOfExport, ErasureBody, ErasureReply, ExportHead, ExportReply, PhotoOfExport } from './schemas.ts';

/** What is kept of a customer: handed out, and erased. */
export function personalDataRoutes(app: Api, deps: ApiDeps): void {
  const tags = ['personal data'];

  app.get(
    '/jobs/:jobId/customer-data',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'exportCustomerData',
        summary: 'Everything kept of whoever brought this car, in all their bookings, as one JSON document',
        description:
          'Bookings are of one person when they share an e-mail address, a telephone number, or name and registration. ' +
          'The trail of changes notes who took it.',
        tags,
        params: OfJob,
        response: { 200: ExportReply, ...problemReplies('not-found') },
      },
    },
    async (request, reply) => {
      const data = await exportPerson(deps.shop, request.params);
      reply
        .header('cache-control', 'no-store')
        .header('content-disposition', `attachment; filename="customer-data-${request.params.jobId}.json"`)
        .type('application/json; charset=utf-8');
      return reply.send(Readable.from(asJson(data, request.zone)) as never);
    },
  );

  app.post(
    '/jobs/:jobId/customer-data/erasure',
    {
      config: { needs: 'admit' },
      schema: {
        operationId: 'eraseCustomerData',
        summary: 'Erase whoever brought this car from all their bookings; what was booked, planned and earned stays',
        description:
          'Refused (409) while a car of theirs is in the shop or booked ahead. What was erased before stays as it is.',
        tags,
        params: OfJob,
        headers: IdempotencyKey,
        body: ErasureBody,
        response: { 200: ErasureReply, ...problemReplies(...ofPost, 'wrong-state') },
      },
    },
    async (request, reply) =>
      sendWithEffect(
        request,
        reply,
        () => ({ status: 200 }),
        (alsoAnswer) => erasePerson(deps.shop, { ...request.params, ...request.body }, alsoAnswer),
      ),
  );
}

/** The document piece by piece: one booking and one picture at a time are in memory. */
async function* asJson(data: PersonsData, zone: string): AsyncGenerator<string> {
  const written = (schema: z.ZodType, value: unknown) => JSON.stringify(z.encode(inZone(schema, zone), value));
  yield `${open(written(ExportHead, data))},"bookings":[`;
  for (const [at, jobId] of data.jobIds.entries()) {
    const { photos, ...booking } = await data.booking(jobId);
    yield `${at === 0 ? '' : ','}${open(written(BookingOfExport, booking))},"photos":[`;
    for (const [number, photo] of photos.entries()) {
      const picture = await data.picture(photo.id);
      const image = picture === null ? '' : Buffer.from(picture).toString('base64');
      yield `${number === 0 ? '' : ','}${open(written(PhotoOfExport, photo))},"image":"${image}"}`;
    }
    yield ']}';
  }
  yield ']}';
}

/** An object's text without its last bracket, to be gone on with. */
function open(text: string): string {
  return text.slice(0, -1);
}
