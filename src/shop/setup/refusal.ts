import {
  AlreadyExists,
  InvalidDocument,
  NotFound as NotInStore,
  StaleVersion,
  StillReferenced,
  UnknownReference,
} from '../../store/store.ts';
import { Invalid, NotFound, Refused, Stale, WrongState } from '../problems/problems.ts';

/** The store's refusal of a change to the shop's data, as a problem that names the field; anything else is thrown on. */
export function refusalOf(error: unknown, what: string, id: string): never {
  if (error instanceof StaleVersion) throw new Stale(what, error.expected, error.actual);
  if (error instanceof AlreadyExists) throw new Stale(what, 0, null);
  if (error instanceof NotInStore) throw new NotFound(what, id, 'id');
  if (error instanceof StillReferenced) {
    throw new WrongState(`The ${what} "${id}" is still used by ${error.by.join(', ')}.`, 'id');
  }
  if (error instanceof UnknownReference) {
    throw new Refused(`The ${what} names a ${error.kind} that is not there.`, [
      { rule: 'unknownReference', field: error.field, text: `There is no ${error.kind} "${error.id}" in this shop.` },
    ]);
  }
  if (error instanceof InvalidDocument) {
    throw new Invalid(
      `The ${what} is not valid.`,
      error.problems[0]?.field ?? '',
      error.problems.map(({ field, message }) => ({ rule: 'invalid', field, text: message })),
    );
  }
  throw error;
}
