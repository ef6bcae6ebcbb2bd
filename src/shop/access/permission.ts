import { z } from 'zod';

/**
 * What somebody may do in a shop. `see`: the book, the day, the queue. `book`: take, change and cancel cars, quote, answer for
 * customers. `work`: record what happens on the floor. `plan`: have the shop planned again, move what is planned, acknowledge
 * exceptions. `figures`: utilisation, promises kept, money. `setUp`: places, people, equipment, coatings, recipes. `admit`:
 * accounts, tablets, tokens, the audit trail, a customer's data.
 */
export const Permission = z.enum(['see', 'book', 'work', 'plan', 'figures', 'setUp', 'admit']);
export type Permission = z.infer<typeof Permission>;

/** What a person is in a shop. */
export const Role = z.enum(['desk', 'floor', 'owner']);
export type Role = z.infer<typeof Role>;

const ofRole: Readonly<Record<Role, readonly Permission[]>> = {
  desk: ['see', 'book', 'work', 'plan'],
  floor: ['see', 'work'],
  owner: Permission.options,
};

/** What a role may do; nothing when the role is none of this release. */
export function permissionsOf(role: string): ReadonlySet<Permission> {
  const known = Role.safeParse(role);
  return new Set(known.success ? ofRole[known.data] : []);
}
