import { z } from 'zod';
import { QueuedMessage, ToldTimes } from '../../../trade/model/customer-message.ts';
import { DeskException } from '../../../trade/model/desk-exception.ts';
import { JobId, ShopId } from '../../../trade/model/ids.ts';
import { FloorEvent, Job } from '../../../trade/model/job.ts';
import { Photo } from '../../../trade/model/photo.ts';
import { Instant } from '../../../trade/model/time.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { Change } from '../audit/change.ts';

const head = {
  exportedAt: Instant,
  shop: z.object({ id: ShopId, name: z.string() }),
};

const booking = {
  job: Job,
  consents: z.array(
    z.object({
      to: z.enum(['scopeAfterInspection', 'coatingOfRepaint']),
      about: z.string(),
      answer: z.string(),
      answerBy: Instant.nullable(),
    }),
  ),
  facts: z.array(FloorEvent),
  toldTimes: z.array(ToldTimes),
  messages: z.array(QueuedMessage),
  link: z.object({ generation: z.int(), issuedAt: Instant, revokedAt: Instant.nullable() }).nullable(),
  exceptions: z.array(DeskException),
  changes: z.array(Change),
};

export const ExportHead = onTheWire(z.object(head));
export const BookingOfExport = onTheWire(z.object(booking));
export const PhotoOfExport = onTheWire(Photo);
export const ExportReply = onTheWire(
  z.object({
    ...head,
    bookings: z.array(
      z.object({
        ...booking,
        photos: z.array(Photo.extend({ image: z.string().describe('The picture itself, in base64.') })),
      }),
    ),
  }),
);

export const ErasureBody = z.object({
  jobIds: z
    .array(JobId)
    .min(1)
    .max(500)
    .nullable()
    .default(null)
    .describe('Of the bookings in the export, those that are meant; all when left out.'),
});
export const ErasureReply = onTheWire(
  z.object({
    erasedAt: Instant,
    jobIds: z.array(JobId).readonly(),
    photos: z.int(),
    messages: z.int(),
    links: z.int(),
    texts: z.int().describe('Rows from which words were taken: the trail of changes, news, kept replies, notes.'),
  }),
);
