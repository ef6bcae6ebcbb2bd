import type { AccountId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Account, AccountRole, Accounts, Attempts } from '../contract/access.ts';
import type { Expected } from '../contract/collection.ts';
import { AlreadyExists } from '../contract/errors.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { AccountModel, AccountRoleModel } from '../generated/sqlite/models.ts';
import { noAttempts, oneMore } from './attempts.ts';
import { noteChange } from './audit-trail.ts';
import { nextVersion } from './document-collection.ts';
import { checkReferences, checkShop } from './reference.ts';
import type { Session } from './session.ts';

const withRoles = { roles: { orderBy: { shopId: 'asc' } } } as const;

/** Accounts with what they are in each shop. */
export class AccountBook implements Accounts {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async administrators(): Promise<number> {
    return this.#session.reader.account.count({ where: { administrator: true, disabled: false } });
  }

  async get(id: AccountId): Promise<Account | null> {
    const row = await this.#session.reader.account.findUnique({ where: { id }, include: withRoles });
    return row === null ? null : read(row);
  }

  async bySignInName(signInName: string): Promise<Account | null> {
    const row = await this.#session.reader.account.findUnique({ where: { signInName }, include: withRoles });
    return row === null ? null : read(row);
  }

  async listOf(shopId: ShopId): Promise<Account[]> {
    const rows = await this.#session.reader.account.findMany({
      where: { roles: { some: { shopId } } },
      include: withRoles,
      orderBy: [{ name: 'asc' }, { id: 'asc' }],
    });
    return rows.map(read);
  }

  async put(account: Omit<Account, 'version'>, expected: Expected): Promise<Account> {
    const { id, roles, ...rest } = account;
    return this.#session.write('', { what: 'aside' }, async (transaction) => {
      const old = await transaction.account.findUnique({ where: { id }, include: withRoles });
      const before = old === null ? null : read(old);
      const namesake = await transaction.account.findUnique({ where: { signInName: rest.signInName } });
      if (namesake !== null && namesake.id !== id) throw new AlreadyExists('sign-in name', rest.signInName);
      const version = nextVersion('account', id, old?.version ?? null, expected);
      const data = { ...rest, version, updatedAt: BigInt(this.#session.now()) };
      if (old === null) await transaction.account.create({ data: { id, ...data } });
      else await transaction.account.updateMany({ where: { id }, data });
      await transaction.accountRole.deleteMany({ where: { accountId: id } });
      for (const [index, { shopId, technicianId, ...role }] of roles.entries()) {
        await checkShop(transaction, shopId);
        await checkReferences(
          transaction,
          shopId,
          technicianId === null
            ? []
            : [{ field: `roles.${index}.technicianId`, table: 'technician', id: technicianId }],
        );
        await transaction.accountRole.create({ data: { accountId: id, shopId, technicianId, ...role } });
      }
      await this.#note(transaction, before, { ...account, version });
      return { ...account, version };
    });
  }

  /** In the trail of every shop it serves or served, without its hashes. */
  async #note(transaction: Prisma.TransactionClient, before: Account | null, after: Account): Promise<void> {
    const shops = new Set([...(before?.roles ?? []), ...after.roles].map(({ shopId }) => shopId));
    for (const shopId of shops) {
      const change = { shopId, kind: 'account', subject: after.id, before: seenIn(shopId, before) };
      noteChange(this.#session, transaction, { ...change, after: seenIn(shopId, after) });
    }
  }

  async countAttempt(
    id: AccountId,
    now: Instant,
    lockUntil: (failed: number) => Instant | null,
  ): Promise<Attempts | null> {
    return this.#session.write('', { what: 'aside' }, async (transaction) => {
      for (;;) {
        const row = await transaction.account.findUnique({ where: { id } });
        const next = row === null ? null : oneMore(row, now, lockUntil);
        if (row === null || next === null) return null;
        const { failedAttempts, lockedUntil } = row;
        const { count } = await transaction.account.updateMany({
          where: { id, failedAttempts, lockedUntil },
          data: next.data,
        });
        if (count === 1) return next.before;
      }
    });
  }

  async clearAttempts(id: AccountId): Promise<void> {
    await this.#session.write('', { what: 'aside' }, async (transaction) => {
      await transaction.account.updateMany({ where: { id }, data: noAttempts });
    });
  }
}

function read(row: AccountModel & { roles: AccountRoleModel[] }): Account {
  const { id, version, signInName, name, passwordHash, administrator, disabled } = row;
  return {
    id: id as AccountId,
    version,
    signInName,
    name,
    passwordHash,
    administrator,
    disabled,
    roles: row.roles.map(readRole),
  };
}

/** The account as it stands in one shop; null when it has no role there. */
function seenIn(shopId: ShopId, account: Account | null): string | null {
  const role = account?.roles.find((each) => each.shopId === shopId);
  if (account === null || role === undefined) return null;
  const { id, version, signInName, name, administrator, disabled, passwordHash } = account;
  const ways = { hasPassword: passwordHash !== null, hasPin: role.pinHash !== null };
  const { role: as, technicianId } = role;
  return JSON.stringify({ id, version, signInName, name, administrator, disabled, role: as, technicianId, ...ways });
}

function readRole({ shopId, role, technicianId, pinHash }: AccountRoleModel): AccountRole {
  return { shopId: shopId as ShopId, role, technicianId: technicianId as TechnicianId | null, pinHash };
}
