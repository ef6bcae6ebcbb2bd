import type { Plan } from '../../trade/model/plan.ts';
import { afterChange, NO_WORK, wayBetween } from '../../trade/model/plan-way.ts';
import { InvalidDocument, NotFound, StalePlan } from '../contract/errors.ts';
import type { Publication } from '../contract/plans.ts';
import { noteChange } from './audit-trail.ts';
import { frozen } from './frozen.ts';
import { checkStretches, purgeLapsed, releaseHolds } from './hold-book.ts';
import { changeOccupancy } from './plan-occupancy.ts';
import { changePlanTables, changeReferences } from './plan-tables.ts';
import { currentPlan, keepVersion } from './plan-versions.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

/**
 * Makes a plan the current one, all or nothing: compare and swap the shop's plan version, purge lapsed holds, then write
 * what differs from the plan that stood, of its occupancy and of its tables. The plan is one that its caller has made and
 * checked; it is not looked through again. Returns it as it is kept, in which what stays as it was is the very same object.
 * @throws StalePlan, DoubleBooking, UnknownReference, InvalidDocument
 */
export async function publishPlan(
  session: Session,
  { shopId, expectedVersion, plan, occupancy, now, releaseHolds: released }: Publication,
): Promise<Plan> {
  if (plan.version !== expectedVersion + 1) {
    throw new InvalidDocument(`plan ${shopId}`, [{ field: 'version', message: `must be ${expectedVersion + 1}` }]);
  }
  checkStretches('occupancy', occupancy);
  return session.write(shopId, { what: 'plan' }, async (transaction) => {
    const before = await currentPlan({ ...session, reader: transaction, committed: false }, shopId);
    const swapped = await transaction.shop.updateMany({
      where: { id: shopId, planVersion: expectedVersion },
      data: { planVersion: plan.version },
    });
    if (swapped.count === 0) {
      const shop = await transaction.shop.findUnique({ where: { id: shopId } });
      if (shop === null) throw new NotFound('shop', shopId);
      throw new StalePlan(expectedVersion, shop.planVersion);
    }
    const { there, back } = wayBetween(before ?? NO_WORK, plan);
    const next = frozen({ ...plan, ...afterChange(before ?? NO_WORK, there) });
    await checkReferences(transaction, shopId, changeReferences(there));
    await purgeLapsed(transaction, shopId, now);
    if (released !== undefined) await releaseHolds(transaction, shopId, released);
    await changeOccupancy(transaction, session.provider, shopId, occupancy);
    await keepVersion(transaction, shopId, before, next, back);
    await changePlanTables(transaction, session.provider, shopId, there);
    // The versions themselves are kept apart; here is who made one and why.
    const after = JSON.stringify({ version: plan.version, reason: plan.reason });
    noteChange(session, transaction, {
      shopId,
      kind: 'plan',
      subject: String(plan.version),
      before: null,
      after,
    });
    session.gathered(transaction).afterwards.push(() => session.plans.keep(shopId, next));
    return next;
  });
}
