import { Plan } from '../../trade/model/plan.ts';
import { Instant } from '../../trade/model/time.ts';
import { insertRows } from '../connection/insert-rows.ts';
import { InvalidDocument, NotFound, StalePlan } from '../contract/errors.ts';
import type { Publication } from '../contract/plans.ts';
import { checkDocument } from './document.ts';
import { refuseOverlaps } from './double-booking.ts';
import { checkStretches, purgeLapsed, releaseHolds } from './hold-book.ts';
import { planReferences, replacePlanTables } from './plan-tables.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

const OCCUPANCY_COLUMNS = {
  shopId: 'text',
  placeId: 'text',
  startsAt: 'bigint',
  endsAt: 'bigint',
  owner: 'text',
  jobId: 'text',
} as const;

/**
 * Makes a plan the current one, all or nothing: compare and swap the shop's plan version, purge lapsed holds, take the
 * old plan's occupancy away, put the new one's there.
 * @throws StalePlan, DoubleBooking, UnknownReference, InvalidDocument
 */
export async function publishPlan(
  session: Session,
  { shopId, expectedVersion, plan, occupancy, now, releaseHolds: released }: Publication,
): Promise<void> {
  const checked = checkDocument(Plan, plan, `plan ${shopId}/${plan.version}`);
  if (checked.version !== expectedVersion + 1) {
    throw new InvalidDocument(`plan ${shopId}`, [{ field: 'version', message: `must be ${expectedVersion + 1}` }]);
  }
  checkStretches('occupancy', occupancy);
  await session.write(shopId, async (transaction) => {
    const swapped = await transaction.shop.updateMany({
      where: { id: shopId, planVersion: expectedVersion },
      data: { planVersion: checked.version },
    });
    if (swapped.count === 0) {
      const shop = await transaction.shop.findUnique({ where: { id: shopId } });
      if (shop === null) throw new NotFound('shop', shopId);
      throw new StalePlan(expectedVersion, shop.planVersion);
    }
    await checkReferences(transaction, shopId, [
      ...planReferences(checked),
      ...occupancy.flatMap(({ placeId, jobId }, index) => [
        { field: `occupancy.${index}.placeId`, table: 'place' as const, id: placeId },
        { field: `occupancy.${index}.jobId`, table: 'job' as const, id: jobId },
      ]),
    ]);

    await purgeLapsed(transaction, shopId, now);
    if (released !== undefined) await releaseHolds(transaction, shopId, released);
    await transaction.occupancy.deleteMany({ where: { shopId, expiresAt: null } });
    const holds = await transaction.occupancy.findMany({ where: { shopId } });
    refuseOverlaps([
      ...occupancy,
      ...holds.map((row) => ({
        placeId: row.placeId,
        from: Instant.parse(Number(row.startsAt)),
        to: Instant.parse(Number(row.endsAt)),
      })),
    ]);
    await insertRows(
      transaction,
      session.provider,
      'Occupancy',
      OCCUPANCY_COLUMNS,
      occupancy.map(({ placeId, from, to, jobId }) => ({
        shopId,
        placeId,
        startsAt: from,
        endsAt: to,
        owner: jobId,
        jobId,
      })),
    );

    const { version, madeAt, reason, objective, interrupted } = checked;
    await transaction.planVersion.create({
      data: {
        shopId,
        version,
        madeAt: BigInt(madeAt),
        summary: JSON.stringify({ version, madeAt, reason, objective, interrupted }),
        document: JSON.stringify(checked),
      },
    });
    await replacePlanTables(transaction, session.provider, shopId, checked);
  });
}
