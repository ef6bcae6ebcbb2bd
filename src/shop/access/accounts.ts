import { z } from 'zod';
import type { Account, AccountRole } from '../../store/store.ts';
import { AccountId, type ShopId, TechnicianId } from '../../trade/model/ids.ts';
import { Invalid, NotFound, WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import type { AccessDeps } from './deps.ts';
import { hashPassword, hashPin } from './password.ts';
import { Role } from './permission.ts';
import { signInNameOf } from './sign-in-name.ts';

/** An account as a shop sees it: no hash, and no other shop's roles. */
export interface ShopAccount {
  readonly id: AccountId;
  readonly version: number;
  readonly signInName: string;
  readonly name: string;
  readonly role: Role;
  readonly technicianId: TechnicianId | null;
  readonly hasPassword: boolean;
  readonly hasPin: boolean;
  readonly disabled: boolean;
  readonly administrator: boolean;
}

/** Somebody to be admitted to a shop. */
export const NewAccount = z.object({
  signInName: z.string().trim().min(3).max(120),
  name: z.string().trim().min(1).max(120),
  role: Role,
  technicianId: TechnicianId.nullable().default(null),
  password: z.string().max(1_000).nullable().default(null),
  pin: z.string().max(20).nullable().default(null),
});
export type NewAccount = z.infer<typeof NewAccount>;

/** What is given is changed; a null takes password or PIN away. */
export const AccountChange = z.object({
  name: z.string().trim().min(1).max(120).optional(),
  role: Role.optional(),
  technicianId: TechnicianId.nullable().optional(),
  password: z.string().max(1_000).nullable().optional(),
  pin: z.string().max(20).nullable().optional(),
  disabled: z.boolean().optional(),
});
export type AccountChange = z.infer<typeof AccountChange>;

export async function listAccounts(deps: AccessDeps, input: { shopId: ShopId }): Promise<ShopAccount[]> {
  const accounts = await deps.store.accounts.listOf(input.shopId);
  return accounts.map((account) => seenFrom(input.shopId, account));
}

/** @throws NotFound */
export async function findAccount(
  deps: AccessDeps,
  input: { shopId: ShopId; accountId: AccountId },
): Promise<ShopAccount> {
  return seenFrom(input.shopId, await ofShop(deps, input));
}

/** Admits somebody to a shop. @throws Invalid (names the field) */
export async function addAccount(
  deps: AccessDeps,
  { shopId, ...given }: NewAccount & { shopId: ShopId },
): Promise<ShopAccount> {
  const signInName = signInNameOf(given.signInName);
  if (given.password === null && given.pin === null) {
    throw new Invalid('Give a password, or a PIN for the shop’s tablets.', 'password');
  }
  const account = {
    id: AccountId.parse(deps.newId()),
    signInName,
    name: given.name,
    passwordHash: given.password === null ? null : await hashPassword(given.password, [signInName, given.name]),
    administrator: false,
    disabled: false,
    roles: [
      {
        shopId,
        role: given.role,
        technicianId: given.technicianId,
        pinHash: given.pin === null ? null : await hashPin(given.pin),
      },
    ],
  };
  return seenFrom(shopId, await kept(deps, account, 'new'));
}

/**
 * Changes an account of the shop. Its sessions end when its password, its role or its being enabled changes.
 * @throws NotFound, Stale, Invalid, WrongState (the account is also of another shop, and this is not the shop's to change)
 */
export async function changeAccount(
  deps: AccessDeps,
  input: { shopId: ShopId; accountId: AccountId; change: AccountChange; version: number },
): Promise<ShopAccount> {
  const { shopId, change } = input;
  const account = await ofShop(deps, input);
  const personal = change.password !== undefined || change.disabled !== undefined || change.name !== undefined;
  if (personal && (account.administrator || account.roles.length > 1)) {
    throw new WrongState('It serves other shops too: only its owner changes its name and password.', 'password');
  }
  const { password, pin } = change;
  const name = change.name ?? account.name;
  const roles = await Promise.all(
    account.roles.map(async (role): Promise<AccountRole> => {
      if (role.shopId !== shopId) return role;
      return {
        shopId,
        role: change.role ?? role.role,
        technicianId: change.technicianId === undefined ? role.technicianId : change.technicianId,
        pinHash: pin === undefined ? role.pinHash : pin === null ? null : await hashPin(pin),
      };
    }),
  );
  const passwordHash =
    password === undefined
      ? account.passwordHash
      : password === null
        ? null
        : await hashPassword(password, [account.signInName, name]);
  const disabled = change.disabled ?? account.disabled;
  const changed = await kept(deps, { ...account, name, roles, passwordHash, disabled }, input.version);
  if (password !== undefined || change.role !== undefined || change.disabled !== undefined) {
    await deps.store.signIns.endAllOf(account.id);
  }
  return seenFrom(shopId, changed);
}

/** Takes somebody's role in the shop away. The account stays, of use in other shops only. @throws NotFound, Stale */
export async function removeAccount(
  deps: AccessDeps,
  input: { shopId: ShopId; accountId: AccountId; version: number },
): Promise<void> {
  const account = await ofShop(deps, input);
  const roles = account.roles.filter(({ shopId }) => shopId !== input.shopId);
  const disabled = account.disabled || (roles.length === 0 && !account.administrator);
  await kept(deps, { ...account, roles, disabled }, input.version);
  await deps.store.signIns.endAllOf(account.id);
}

async function ofShop(deps: AccessDeps, { shopId, accountId }: { shopId: ShopId; accountId: AccountId }) {
  const account = await deps.store.accounts.get(accountId);
  if (account === null || account.roles.every((role) => role.shopId !== shopId)) {
    throw new NotFound('account', accountId, 'accountId');
  }
  return account;
}

async function kept(deps: AccessDeps, account: Omit<Account, 'version'>, expected: 'new' | number): Promise<Account> {
  return inShopTerms(() => deps.store.accounts.put(account, expected));
}

function seenFrom(shopId: ShopId, account: Account): ShopAccount {
  const role = account.roles.find((each) => each.shopId === shopId);
  const { id, version, signInName, name, disabled, administrator } = account;
  return {
    id,
    version,
    signInName,
    name,
    role: Role.catch('floor').parse(role?.role),
    technicianId: role?.technicianId ?? null,
    hasPassword: account.passwordHash !== null,
    hasPin: (role?.pinHash ?? null) !== null,
    disabled,
    administrator,
  };
}
