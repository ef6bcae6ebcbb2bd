import type { Device } from '../../store/store.ts';
import { type AccountId, DeviceId, type ShopId, type TechnicianId } from '../../trade/model/ids.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import type { AccessDeps } from './deps.ts';
import { hashOfSecret, newSecret } from './secret.ts';

/** A tablet just made known, with the secret for its cookie, told once. */
export interface NewDevice {
  readonly device: Device;
  readonly secret: string;
}

/** Makes the tablet that asks one of the shop's. */
export async function addDevice(deps: AccessDeps, input: { shopId: ShopId; name: string }): Promise<NewDevice> {
  const secret = newSecret();
  const device: Device = {
    ...input,
    id: DeviceId.parse(deps.newId()),
    secretHash: hashOfSecret(secret),
    createdAt: deps.clock(),
  };
  await inShopTerms(() => deps.store.devices.add(device));
  return { device, secret };
}

/** Somebody who may sign in on a shared tablet. */
export interface OnTablet {
  readonly accountId: AccountId;
  readonly name: string;
  readonly technicianId: TechnicianId | null;
}

export interface KnownTablet {
  readonly shopId: ShopId;
  readonly name: string;
  readonly people: readonly OnTablet[];
}

/** The tablet that asks, with those who have a PIN there; null when it is none of any shop. */
export async function knownTablet(deps: AccessDeps, input: { secret: string | null }): Promise<KnownTablet | null> {
  const device = input.secret === null ? null : await deps.store.devices.bySecret(hashOfSecret(input.secret));
  if (device === null) return null;
  const accounts = await deps.store.accounts.listOf(device.shopId);
  const people = accounts.flatMap(({ id, name, disabled, roles }): OnTablet[] => {
    const role = roles.find(({ shopId }) => shopId === device.shopId);
    const mayEnter = !disabled && role !== undefined && role.pinHash !== null;
    return mayEnter ? [{ accountId: id, name, technicianId: role.technicianId }] : [];
  });
  return { shopId: device.shopId, name: device.name, people };
}

/** Withdraws a tablet; whoever is signed in on it is signed out. @throws NotFound */
export async function removeDevice(deps: AccessDeps, input: { shopId: ShopId; deviceId: DeviceId }): Promise<void> {
  await inShopTerms(() => deps.store.devices.remove(input.shopId, input.deviceId));
}
