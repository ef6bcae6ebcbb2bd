import type { AccountId, DeviceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import { Permission, permissionsOf } from './permission.ts';

/** Who asks, and what they may do where. */
export interface Principal {
  /** Unique and without personal data: `account:…`, `token:…`, `nobody`. What the audit trail and idempotency keys hold. */
  readonly who: string;
  /** As shown to people. */
  readonly name: string;
  readonly accountId: AccountId | null;
  readonly deviceId: DeviceId | null;
  /** Administers every shop of the server. */
  readonly administrator: boolean;
  /** What it may do in each shop it serves; an administrator may do everything everywhere. */
  readonly shops: ReadonlyMap<ShopId, ReadonlySet<Permission>>;
  /** The person of a shop's plan who this is. */
  readonly technicians: ReadonlyMap<ShopId, TechnicianId>;
}

export const nobody: Principal = {
  who: 'nobody',
  name: '',
  accountId: null,
  deviceId: null,
  administrator: false,
  shops: new Map(),
  technicians: new Map(),
};

const everything: ReadonlySet<Permission> = new Set(Permission.options);

/** What the principal may do in a shop; empty where it does not serve. */
export function permissionsIn(principal: Principal, shopId: ShopId): ReadonlySet<Permission> {
  if (principal.administrator) return everything;
  return principal.shops.get(shopId) ?? permissionsOf('');
}
