import {
  AlreadyExists,
  DoubleBooking,
  databaseTrouble,
  InvalidDocument,
  StaleVersion,
  NotFound as StoreNotFound,
  UnknownReference,
} from '../../store/store.ts';
import { Invalid, NotFound, SlotGone, Stale, StoreTrouble } from './problems.ts';

/** Runs work on the store and turns its refusals into problems of the shop. A `StalePlan` passes: publishing retries it. */
export async function inShopTerms<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (refusal) {
    if (refusal instanceof StaleVersion) throw new Stale(refusal.kind, refusal.expected, refusal.actual);
    if (refusal instanceof StoreNotFound) throw new NotFound(refusal.kind, refusal.id, `${refusal.kind}Id`);
    if (refusal instanceof AlreadyExists) throw new Invalid(`${refusal.message}.`, 'id');
    if (refusal instanceof UnknownReference) throw new Invalid(`${refusal.message}.`, refusal.field);
    if (refusal instanceof DoubleBooking) throw new SlotGone(null);
    if (refusal instanceof InvalidDocument) {
      const objections = refusal.problems.map((each) => ({ rule: 'model', field: each.field, text: each.message }));
      throw new Invalid(`${refusal.message}.`, objections[0]?.field ?? '', objections);
    }
    throw refusal;
  }
}

/** What an error of the database itself means for whoever asked; null for any other error. */
export function storeTroubleOf(error: unknown): StoreTrouble | null {
  const trouble = databaseTrouble(error);
  return trouble === null ? null : new StoreTrouble(trouble);
}
