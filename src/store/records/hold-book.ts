import type { PlaceId, ShopId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import { InvalidDocument } from '../contract/errors.ts';
import type { Stretch } from '../contract/floor.ts';
import type { Hold, Holds } from '../contract/plans.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import { refuseOverlaps } from './double-booking.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

/** Places kept for a while, in the same table as the plan's occupancy. */
export class HoldBook implements Holds {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async take(shopId: ShopId, holds: readonly Hold[], now: Instant): Promise<void> {
    checkStretches('holds', holds);
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      await purgeLapsed(transaction, shopId, now);
      await checkReferences(
        transaction,
        shopId,
        holds.map(({ placeId }, index) => ({ field: `holds.${index}.placeId`, table: 'place', id: placeId })),
      );
      const there = await transaction.occupancy.findMany({
        where: { shopId, placeId: { in: [...new Set(holds.map((hold) => hold.placeId))] } },
      });
      refuseOverlaps([
        ...holds,
        ...there.map((row) => ({ placeId: row.placeId, from: instant(row.startsAt), to: instant(row.endsAt) })),
      ]);
      await transaction.occupancy.createMany({
        data: holds.map((hold) => ({
          shopId,
          placeId: hold.placeId,
          startsAt: BigInt(hold.from),
          endsAt: BigInt(hold.to),
          owner: hold.owner,
          expiresAt: BigInt(hold.expiresAt),
        })),
      });
    });
  }

  async release(shopId: ShopId, owner: string): Promise<void> {
    await this.#session.write(shopId, { what: 'aside' }, (transaction) => releaseHolds(transaction, shopId, [owner]));
  }

  async list(shopId: ShopId, now: Instant): Promise<Hold[]> {
    const rows = await this.#session.reader.occupancy.findMany({
      where: { shopId, expiresAt: { gt: BigInt(now) } },
      orderBy: [{ startsAt: 'asc' }, { placeId: 'asc' }],
    });
    return rows.map((row) => ({
      placeId: row.placeId as PlaceId,
      from: instant(row.startsAt),
      to: instant(row.endsAt),
      owner: row.owner,
      expiresAt: instant(row.expiresAt!),
    }));
  }
}

/** Holds count for nothing from `expiresAt` on. */
export async function purgeLapsed(transaction: Prisma.TransactionClient, shopId: ShopId, now: Instant): Promise<void> {
  await transaction.occupancy.deleteMany({ where: { shopId, expiresAt: { lte: BigInt(now) } } });
}

export async function releaseHolds(
  transaction: Prisma.TransactionClient,
  shopId: ShopId,
  owners: readonly string[],
): Promise<void> {
  await transaction.occupancy.deleteMany({ where: { shopId, owner: { in: [...owners] }, expiresAt: { not: null } } });
}

/** @throws InvalidDocument naming the first stretch that ends before it starts or is empty */
export function checkStretches(list: string, stretches: readonly Stretch[]): void {
  const index = stretches.findIndex(({ from, to }) => from >= to);
  if (index >= 0) throw new InvalidDocument(list, [{ field: `${list}.${index}.to`, message: 'must be after from' }]);
}

function instant(value: bigint): Instant {
  return Instant.parse(Number(value));
}
