import type { DeviceId, ShopId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import type { Attempts, Device, Devices } from '../contract/access.ts';
import { NotFound } from '../contract/errors.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { DeviceModel } from '../generated/sqlite/models.ts';
import { noAttempts, oneMore } from './attempts.ts';
import { noteChange } from './audit-trail.ts';
import { checkShop } from './reference.ts';
import type { Session } from './session.ts';

/** Shared tablets. */
export class DeviceBook implements Devices {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async list(shopId: ShopId): Promise<Device[]> {
    const rows = await this.#session.reader.device.findMany({
      where: { shopId },
      orderBy: [{ name: 'asc' }, { id: 'asc' }],
    });
    return rows.map(read);
  }

  async bySecret(secretHash: string): Promise<Device | null> {
    const row = await this.#session.reader.device.findUnique({ where: { secretHash } });
    return row === null ? null : read(row);
  }

  async add({ createdAt, ...device }: Device): Promise<void> {
    await this.#session.write(device.shopId, { what: 'aside' }, async (transaction) => {
      await checkShop(transaction, device.shopId);
      await transaction.device.create({ data: { ...device, createdAt: BigInt(createdAt) } });
      await this.#note(transaction, device.shopId, device.id, null, device.name);
    });
  }

  async remove(shopId: ShopId, id: DeviceId): Promise<void> {
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const old = await transaction.device.findUnique({ where: { shopId_id: { shopId, id } } });
      if (old === null) throw new NotFound('device', id);
      await transaction.device.deleteMany({ where: { shopId, id } });
      await this.#note(transaction, shopId, id, old.name, null);
      await transaction.signIn.deleteMany({ where: { shopId, deviceId: id } });
    });
  }

  async #note(
    transaction: Prisma.TransactionClient,
    shopId: ShopId,
    id: DeviceId,
    before: string | null,
    after: string | null,
  ): Promise<void> {
    const named = (name: string | null) => (name === null ? null : JSON.stringify({ name }));
    const change = { shopId, kind: 'device', subject: id, before: named(before), after: named(after) };
    noteChange(this.#session, transaction, change);
  }

  async countAttempt(
    shopId: ShopId,
    id: DeviceId,
    now: Instant,
    lockUntil: (failed: number) => Instant | null,
  ): Promise<Attempts | null> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const row = await transaction.device.findUnique({ where: { shopId_id: { shopId, id } } });
      const next = row === null ? null : oneMore(row, now, lockUntil);
      if (next === null) return null;
      await transaction.device.updateMany({ where: { shopId, id }, data: next.data });
      return next.before;
    });
  }

  async clearAttempts(shopId: ShopId, id: DeviceId): Promise<void> {
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      await transaction.device.updateMany({ where: { shopId, id }, data: noAttempts });
    });
  }
}

function read({ shopId, id, name, secretHash, createdAt }: DeviceModel): Device {
  return {
    shopId: shopId as ShopId,
    id: id as DeviceId,
    name,
    secretHash,
    createdAt: Instant.parse(Number(createdAt)),
  };
}
