import type { Records } from '../store.ts';
import { AccountBook } from './account-book.ts';
import { ApiTokenBook } from './api-token-book.ts';
import { AuditTrail } from './audit-trail.ts';
import { DeviceBook } from './device-book.ts';
import { DocumentCollection } from './document-collection.ts';
import { FloorEventLog } from './floor-event-log.ts';
import { HoldBook } from './hold-book.ts';
import { JobCollection } from './job-collection.ts';
import {
  airZoneKind,
  coatingKind,
  deskExceptionKind,
  equipmentKind,
  placeKind,
  recipeKind,
  technicianKind,
} from './kinds.ts';
import { LinkRegister } from './link-register.ts';
import { MessageQueue } from './message-queue.ts';
import { OutboxLog } from './outbox-log.ts';
import { PhotoAlbum } from './photo-album.ts';
import { PlanArchive } from './plan-archive.ts';
import { ReadingLog } from './reading-log.ts';
import { whileUnchanged } from './reading-memory.ts';
import { ReplyLog } from './reply-log.ts';
import type { Session } from './session.ts';
import { ShopCollection } from './shop-collection.ts';
import { SignInLog } from './sign-in-log.ts';
import { ToldTimesRecord } from './told-times-log.ts';
import { TraceFinder } from './trace-finder.ts';

/** All records over one session. */
export function recordsOver(session: Session): Records {
  return {
    shops: new ShopCollection(session),
    airZones: new DocumentCollection(session, airZoneKind),
    places: new DocumentCollection(session, placeKind),
    technicians: new DocumentCollection(session, technicianKind),
    equipment: new DocumentCollection(session, equipmentKind),
    coatings: new DocumentCollection(session, coatingKind),
    recipes: new DocumentCollection(session, recipeKind),
    jobs: new JobCollection(session),
    floorEvents: new FloorEventLog(session),
    readings: new ReadingLog(session),
    plans: new PlanArchive(session),
    holds: new HoldBook(session),
    deskExceptions: new DocumentCollection(session, deskExceptionKind),
    outbox: new OutboxLog(session),
    replies: new ReplyLog(session),
    customerLinks: new LinkRegister(session),
    toldTimes: new ToldTimesRecord(session),
    messages: new MessageQueue(session),
    photos: new PhotoAlbum(session),
    accounts: new AccountBook(session),
    signIns: new SignInLog(session),
    devices: new DeviceBook(session),
    apiTokens: new ApiTokenBook(session),
    audit: new AuditTrail(session),
    traces: new TraceFinder(session),
    whileUnchanged: (shopId, name, read, amend) => whileUnchanged(session, shopId, name, read, amend),
  };
}
