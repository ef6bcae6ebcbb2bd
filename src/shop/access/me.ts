import type { Store } from '../../store/store.ts';
import { type Principal, permissionsIn } from './principal.ts';

/** The principal as it is told to itself. */
export async function me(principal: Principal, store: Store) {
  const served = principal.administrator
    ? (await store.shops.list()).map(({ value }) => value.id)
    : [...principal.shops.keys()];
  return {
    name: principal.name,
    accountId: principal.accountId,
    administrator: principal.administrator,
    onTablet: principal.deviceId !== null,
    shops: served.map((shopId) => ({
      shopId,
      permissions: [...permissionsIn(principal, shopId)],
      technicianId: principal.technicians.get(shopId) ?? null,
    })),
  };
}
