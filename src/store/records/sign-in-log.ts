import type { AccountId, DeviceId, ShopId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import type { SignIn, SignIns } from '../contract/access.ts';
import type { Session } from './session.ts';

/** Sessions by the hash of their secret. */
export class SignInLog implements SignIns {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async add({ createdAt, lastSeenAt, expiresAt, ...rest }: SignIn): Promise<void> {
    const times = { createdAt: BigInt(createdAt), lastSeenAt: BigInt(lastSeenAt), expiresAt: BigInt(expiresAt) };
    await this.#session.write('', { what: 'aside' }, async (transaction) => {
      await transaction.signIn.create({ data: { ...rest, ...times } });
    });
  }

  async get(secretHash: string): Promise<SignIn | null> {
    const row = await this.#session.reader.signIn.findUnique({ where: { secretHash } });
    if (row === null) return null;
    return {
      secretHash,
      accountId: row.accountId as AccountId,
      deviceId: row.deviceId as DeviceId | null,
      shopId: row.shopId as ShopId | null,
      createdAt: Instant.parse(Number(row.createdAt)),
      lastSeenAt: Instant.parse(Number(row.lastSeenAt)),
      expiresAt: Instant.parse(Number(row.expiresAt)),
    };
  }

  async seen(secretHash: string, lastSeenAt: Instant): Promise<void> {
    await this.#session.write('', { what: 'aside' }, async (transaction) => {
      await transaction.signIn.updateMany({ where: { secretHash }, data: { lastSeenAt: BigInt(lastSeenAt) } });
    });
  }

  async end(secretHash: string): Promise<void> {
    await this.#session.write('', { what: 'aside' }, async (transaction) => {
      await transaction.signIn.deleteMany({ where: { secretHash } });
    });
  }

  async endAllOf(accountId: AccountId, butSecretHash?: string): Promise<void> {
    const others = butSecretHash === undefined ? {} : { NOT: { secretHash: butSecretHash } };
    await this.#session.write('', { what: 'aside' }, async (transaction) => {
      await transaction.signIn.deleteMany({ where: { accountId, ...others } });
    });
  }

  async purge(now: Instant): Promise<number> {
    return this.#session.write('', { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.signIn.deleteMany({ where: { expiresAt: { lt: BigInt(now) } } });
      return count;
    });
  }
}
