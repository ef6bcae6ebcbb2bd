import { LRUCache } from 'lru-cache';

/** Names remembered of one owner. */
const MOST_NAMES = 32;

interface Made {
  readonly inputs: readonly unknown[];
  readonly made: unknown;
}

const known = new WeakMap<object, LRUCache<string, Made>>();

/**
 * What was made last under a name for `owner`, and made anew only when one of its inputs is another: another object, not an equal
 * one. It is forgotten with its owner, and frozen, since others get it too.
 */
export function madeOnce<T>(owner: object, name: string, inputs: readonly unknown[], make: () => T): T {
  const names = known.get(owner) ?? new LRUCache<string, Made>({ max: MOST_NAMES });
  known.set(owner, names);
  const last = names.get(name);
  if (last !== undefined && isSame(last.inputs, inputs)) return last.made as T;
  const made = Object.freeze(make());
  names.set(name, { inputs, made });
  return made;
}

function isSame(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((each, k) => Object.is(each, other[k]));
}
