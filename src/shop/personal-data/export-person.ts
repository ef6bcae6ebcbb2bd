import type { AuditEntry, CustomerLink, Records } from '../../store/store.ts';
import type { QueuedMessage, ToldTimes } from '../../trade/model/customer-message.ts';
import type { DeskException } from '../../trade/model/desk-exception.ts';
import type { JobId, PhotoId, ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { Photo } from '../../trade/model/photo.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { foundShop } from '../records/found.ts';
import { bookingsOfPerson } from './same-person.ts';

/** Entries of the trail that are read at once. */
const PAGE = 200;

/** What the customer agreed to, or did not. */
export interface Consent {
  readonly to: 'scopeAfterInspection' | 'coatingOfRepaint';
  readonly about: string;
  readonly answer: string;
  /** Until when an answer was awaited; null where none was. */
  readonly answerBy: Instant | null;
}

/** All that is kept of one booking. */
export interface KeptOfBooking {
  readonly job: Job;
  readonly consents: readonly Consent[];
  readonly facts: readonly FloorEvent[];
  readonly toldTimes: readonly ToldTimes[];
  readonly messages: readonly QueuedMessage[];
  /** The link itself opens the page and is not repeated here. */
  readonly link: Pick<CustomerLink, 'generation' | 'issuedAt' | 'revokedAt'> | null;
  readonly exceptions: readonly DeskException[];
  readonly changes: readonly AuditEntry[];
  readonly photos: readonly Photo[];
}

/** All that is kept of one person. Pictures are read one by one, since together they may be too many for the memory. */
export interface PersonsData {
  readonly exportedAt: Instant;
  readonly shop: { readonly id: ShopId; readonly name: string };
  readonly jobIds: readonly JobId[];
  booking(jobId: JobId): Promise<KeptOfBooking>;
  picture(photoId: PhotoId): Promise<Uint8Array | null>;
}

/** Opens what is kept of whoever brought a car, in all their bookings, and notes that it was. @throws NotFound */
export async function exportPerson(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  { shopId, jobId }: { readonly shopId: ShopId; readonly jobId: JobId },
): Promise<PersonsData> {
  const { store } = deps;
  const { name } = await foundShop(store, shopId);
  const jobs = await bookingsOfPerson(store, shopId, jobId);
  const jobIds = jobs.map(({ id }) => id);
  await store.audit.note(shopId, { kind: 'export', subject: jobId, after: { jobIds } });
  return {
    exportedAt: deps.clock(),
    shop: { id: shopId, name },
    jobIds,
    booking: (id) => keptOf(store, shopId, jobs.find((job) => job.id === id)!),
    picture: (id) => store.photos.bytes(shopId, id),
  };
}

async function keptOf(records: Records, shopId: ShopId, job: Job): Promise<KeptOfBooking> {
  const link = await records.customerLinks.get(shopId, job.id);
  const exceptions = await records.deskExceptions.list(shopId);
  return {
    job,
    consents: consentsOf(job),
    facts: await records.floorEvents.listByJob(shopId, job.id),
    toldTimes: await records.toldTimes.list(shopId, job.id),
    messages: await records.messages.listByJob(shopId, job.id),
    link: link && { generation: link.generation, issuedAt: link.issuedAt, revokedAt: link.revokedAt },
    exceptions: exceptions.map(({ value }) => value).filter(({ jobId }) => jobId === job.id),
    changes: await changesOf(records, shopId, job.id),
    photos: await records.photos.list(shopId, job.id),
  };
}

function consentsOf({ scope, vehicle }: Job): Consent[] {
  const asked: Consent[] =
    scope === null
      ? []
      : [
          {
            to: 'scopeAfterInspection',
            about: `${scope.correctionPasses} passes for ${scope.priceMinor} minor units`,
            answer: scope.answer,
            answerBy: scope.answerBy,
          },
        ];
  return [
    ...asked,
    ...vehicle.repaints.map(
      ({ panel, paintedOn, painterCleared }): Consent => ({
        to: 'coatingOfRepaint',
        about: `${panel}, painted on ${paintedOn}`,
        answer: painterCleared ? 'the painter cleared it' : 'not cleared',
        answerBy: null,
      }),
    ),
  ];
}

async function changesOf(records: Records, shopId: ShopId, jobId: JobId): Promise<AuditEntry[]> {
  const all: AuditEntry[] = [];
  for (;;) {
    const last = all.at(-1);
    const page = await records.audit.list(shopId, {
      subject: jobId,
      limit: PAGE,
      ...(last === undefined ? {} : { beforeId: last.id }),
    });
    all.push(...page);
    if (page.length < PAGE) return all;
  }
}
