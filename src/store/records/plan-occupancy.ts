import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { deleteRows, insertRows } from '../connection/many-rows.ts';
import type { Occupancy } from '../contract/plans.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { Provider } from '../provider.ts';
import { refuseOverlaps } from './double-booking.ts';

const OCCUPANCY_COLUMNS = {
  shopId: 'text',
  placeId: 'text',
  startsAt: 'bigint',
  endsAt: 'bigint',
  owner: 'text',
  jobId: 'text',
} as const;

const STRETCH_COLUMNS = { shopId: 'text', placeId: 'text', startsAt: 'bigint' } as const;

/**
 * Makes the plan's occupancy what it is to be, touching only what differs: first everything that goes, then what comes, so
 * that the database never sees two in one place that are not meant to be.
 * @throws DoubleBooking naming the place, a live hold's included
 */
export async function changeOccupancy(
  transaction: Prisma.TransactionClient,
  provider: Provider,
  shopId: ShopId,
  wanted: readonly Occupancy[],
): Promise<void> {
  const there = await transaction.occupancy.findMany({ where: { shopId } });
  const holds = there.filter((row) => row.expiresAt !== null);
  refuseOverlaps([
    ...wanted,
    ...holds.map(({ placeId, startsAt, endsAt }) => ({
      placeId,
      from: Number(startsAt) as Instant,
      to: Number(endsAt) as Instant,
    })),
  ]);
  const key = (placeId: string, from: number | bigint, to: number | bigint, jobId: string | null) =>
    `${placeId} ${from} ${to} ${jobId}`;
  const coming = new Map(wanted.map((each) => [key(each.placeId, each.from, each.to, each.jobId), each]));
  const going = there
    .filter((row) => row.expiresAt === null)
    // What is there already neither comes nor goes.
    .filter(({ placeId, startsAt, endsAt, jobId }) => !coming.delete(key(placeId, startsAt, endsAt, jobId)))
    .map(({ placeId, startsAt }) => ({ shopId, placeId, startsAt: Number(startsAt) }));
  await deleteRows(transaction, provider, 'Occupancy', STRETCH_COLUMNS, going);
  const rows = [...coming.values()].map(({ placeId, from, to, jobId }) => ({
    shopId,
    placeId,
    startsAt: from,
    endsAt: to,
    owner: jobId,
    jobId,
  }));
  await insertRows(transaction, provider, 'Occupancy', OCCUPANCY_COLUMNS, rows);
}
