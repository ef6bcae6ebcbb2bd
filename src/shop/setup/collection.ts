import type { Expected, Versioned } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import { NotFound, Refused } from '../problems/problems.ts';
import { refusalOf } from './refusal.ts';
import type { SetupKind } from './setup-kind.ts';

type Thing = { readonly id: string };

/** All of a kind in a shop, by id. */
export async function listThings<T extends Thing>(
  deps: Pick<ShopDeps, 'store'>,
  kind: SetupKind<T>,
  input: { readonly shopId: ShopId },
): Promise<readonly Versioned<T>[]> {
  return kind.collection(deps.store).list(input.shopId);
}

/** One of a kind. @throws NotFound */
export async function findThing<T extends Thing>(
  deps: Pick<ShopDeps, 'store'>,
  kind: SetupKind<T>,
  input: { readonly shopId: ShopId; readonly id: T['id'] },
): Promise<Versioned<T>> {
  const found = await kind.collection(deps.store).get(input.shopId, input.id);
  if (!found) throw new NotFound(kind.what, input.id, 'id');
  return found;
}

/** Version of one of a kind, null when there is none: what a conditional write is judged by. */
export async function versionOf<T extends Thing>(
  deps: Pick<ShopDeps, 'store'>,
  kind: SetupKind<T>,
  input: { readonly shopId: ShopId; readonly id: T['id'] },
): Promise<number | null> {
  return (await kind.collection(deps.store).get(input.shopId, input.id))?.version ?? null;
}

/**
 * Writes one of a kind whole, new or in place of a version, tells whoever follows the shop and asks for a plan.
 * @throws Stale, NotFound, Refused (it contradicts itself or the shop; each objection names its field)
 */
export async function putThing<T extends Thing>(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  kind: SetupKind<T>,
  input: { readonly shopId: ShopId; readonly value: T; readonly expected: Expected },
): Promise<Versioned<T>> {
  const { shopId, value, expected } = input;
  try {
    const written = await deps.store.transaction(shopId, async (records) => {
      const objections = await kind.objections(value, records, shopId);
      if (objections.length > 0) throw new Refused(`The ${kind.what} contradicts itself or the shop.`, objections);
      const put = await kind.collection(records).put(shopId, value, expected);
      await records.outbox.append(shopId, {
        kind: 'setup.changed',
        subject: `${kind.path}/${value.id}`,
        at: deps.clock(),
        body: { version: put.version },
      });
      return put;
    });
    deps.replanner.ask(shopId, `${kind.what} ${value.id} was changed`);
    return written;
  } catch (error) {
    return refusalOf(error, kind.what, value.id);
  }
}

/** Removes one of a kind. @throws Stale, NotFound, WrongState (something still uses it) */
export async function removeThing<T extends Thing>(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  kind: SetupKind<T>,
  input: { readonly shopId: ShopId; readonly id: T['id']; readonly expected: number },
): Promise<void> {
  const { shopId, id, expected } = input;
  try {
    await deps.store.transaction(shopId, async (records) => {
      await kind.collection(records).delete(shopId, id, expected);
      await records.outbox.append(shopId, {
        kind: 'setup.removed',
        subject: `${kind.path}/${id}`,
        at: deps.clock(),
        body: {},
      });
    });
    deps.replanner.ask(shopId, `${kind.what} ${id} was removed`);
  } catch (error) {
    refusalOf(error, kind.what, id);
  }
}
