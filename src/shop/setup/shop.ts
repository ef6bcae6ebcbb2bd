import type { Expected, Records, Versioned } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { ShopDeps } from '../deps.ts';
import { NotFound, Refused } from '../problems/problems.ts';
import { hoursObjections } from './hours-objections.ts';
import { refusalOf } from './refusal.ts';

/** Every shop kept here. */
export async function listShops(deps: Pick<ShopDeps, 'store'>): Promise<readonly Versioned<Shop>[]> {
  return deps.store.shops.list();
}

/** One shop. @throws NotFound */
export async function findShop(
  deps: Pick<ShopDeps, 'store'>,
  input: { readonly shopId: ShopId },
): Promise<Versioned<Shop>> {
  const { shopId } = input;
  const found = await deps.store.whileUnchanged(
    shopId,
    'shop',
    () => deps.store.shops.get(shopId),
    (was) => Promise.resolve(was),
  );
  if (!found) throw new NotFound('shop', shopId, 'shopId');
  return found;
}

/** Version of a shop, null when there is none: what a conditional write is judged by. */
export async function versionOfShop(
  deps: Pick<ShopDeps, 'store'>,
  input: { readonly shopId: ShopId },
): Promise<number | null> {
  return (await deps.store.shops.get(input.shopId))?.version ?? null;
}

/** Writes a shop, new or in place of a version. @throws Stale, NotFound, Refused (overlapping hours) */
export async function putShop(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  input: { readonly shop: Shop; readonly expected: Expected },
): Promise<Versioned<Shop>> {
  const { shop, expected } = input;
  const objections = hoursObjections(shop.hours, 'hours', shop.exceptions, 'exceptions');
  if (objections.length > 0) throw new Refused('The shop contradicts itself.', objections);
  const write = async (records: Records) => {
    const written = await records.shops.put(shop, expected);
    await records.outbox.append(shop.id, {
      kind: 'setup.changed',
      subject: 'shop',
      at: deps.clock(),
      body: { version: written.version },
    });
    return written;
  };
  try {
    // A shop that is not there yet has no lock to take, and nobody to race with but another maker of the same shop.
    if (expected === 'new') return await write(deps.store);
    const written = await deps.store.transaction(shop.id, write);
    deps.replanner.ask(shop.id, 'the shop was changed');
    return written;
  } catch (error) {
    return refusalOf(error, 'shop', shop.id);
  }
}
