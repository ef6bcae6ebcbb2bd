import type { PlaceId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { deleteRows, gatherColumns, insertRows } from '../connection/many-rows.ts';
import type { Stretch } from '../contract/floor.ts';
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
  const there = await takenNow(transaction, provider, shopId);
  refuseOverlaps([...wanted, ...there.filter(({ isHeld }) => isHeld)]);
  const key = ({ placeId, from, to, jobId }: Omit<Taken, 'isHeld'>) => `${placeId} ${from} ${to} ${jobId}`;
  const coming = new Map(wanted.map((each) => [key(each), each]));
  const going = there
    // What is there already neither comes nor goes.
    .filter((each) => !each.isHeld && !coming.delete(key(each)))
    .map(({ placeId, from }) => ({ shopId, placeId, startsAt: from }));
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

interface Taken extends Stretch {
  readonly placeId: PlaceId;
  readonly jobId: string | null;
  readonly isHeld: boolean;
}

/** All that is taken, of which there are as many rows as cars stay in places. */
async function takenNow(
  transaction: Prisma.TransactionClient,
  provider: Provider,
  shopId: ShopId,
): Promise<readonly Taken[]> {
  const columns = ['"placeId"', '"startsAt"', '"endsAt"', '"jobId"', '"expiresAt"'];
  const rows = await gatherColumns(transaction, provider, '"Occupancy"', columns, '"shopId" = $1', [shopId]);
  return rows.map(([placeId, from, to, jobId, expiresAt]) => ({
    placeId: placeId as PlaceId,
    from: from as Instant,
    to: to as Instant,
    jobId: jobId as string | null,
    isHeld: expiresAt !== null,
  }));
}
