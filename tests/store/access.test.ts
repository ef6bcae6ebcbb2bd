import { expect, it } from 'vitest';
import { AlreadyExists, NotFound, StaleVersion, UnknownReference } from '../../src/store/store.ts';
import { AccountId, DeviceId, type ShopId, TechnicianId, TokenId } from '../../src/trade/model/ids.ts';
import type { Instant } from '../../src/trade/model/time.ts';
import { onEachDatabase } from './fresh-database.ts';
import { at, stockedShop } from './samples.ts';

let made = 0;
/** An account with a name of its own: the tests of a database share it. */
function anAccount(shopId?: ShopId) {
  made += 1;
  return {
    id: AccountId.parse(`a${made}`),
    signInName: `ada-${made}`,
    name: 'Ada Invented',
    passwordHash: 'hash',
    administrator: false,
    disabled: false,
    roles: shopId === undefined ? [] : [{ shopId, role: 'desk', technicianId: null, pinHash: null }],
  };
}

onEachDatabase('an account', (given) => {
  it('is kept with what it is in each shop, and found by its name and its shop', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const account = anAccount(shopId);
    const kept = await store.accounts.put(account, 'new');
    expect(kept).toEqual({ ...account, version: 1 });
    expect(await store.accounts.get(account.id)).toEqual(kept);
    expect(await store.accounts.bySignInName(account.signInName)).toEqual(kept);
    expect(await store.accounts.listOf(shopId)).toEqual([kept]);
    const without = await store.accounts.put({ ...account, roles: [] }, 1);
    expect(without).toMatchObject({ version: 2, roles: [] });
    expect(await store.accounts.listOf(shopId)).toEqual([]);
  });

  it('has a name of its own, changes under its version, and names people of its shop', async () => {
    const { store } = given();
    const account = anAccount(await stockedShop(store));
    await store.accounts.put(account, 'new');
    const other = { ...account, id: AccountId.parse('another') };
    await expect(store.accounts.put(other, 'new')).rejects.toThrow(AlreadyExists);
    await expect(store.accounts.put(account, 7)).rejects.toThrow(StaleVersion);
    const stranger = { ...account.roles[0]!, technicianId: TechnicianId.parse('nobody') };
    await expect(store.accounts.put({ ...account, roles: [stranger] }, 1)).rejects.toThrow(UnknownReference);
    expect(await store.accounts.get(account.id)).toMatchObject({ version: 1, roles: account.roles });
  });

  it('is one when two servers make it at once', async () => {
    const { store, another } = given();
    const other = await another();
    const account = { ...anAccount(), administrator: true };
    const outcomes = await Promise.allSettled([store, other].map((each) => each.accounts.put(account, 'new')));
    expect(outcomes.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(await store.accounts.administrators()).toBe(1);
  });

  it('counts every attempt of many at once, and none while they are locked', async () => {
    const { store, another } = given();
    const other = await another();
    const account = anAccount();
    await store.accounts.put(account, 'new');
    const lock = (failed: number) => (failed < 5 ? null : at(2));
    const attempts = await Promise.all(
      Array.from({ length: 8 }, (_, index) =>
        (index % 2 === 0 ? store : other).accounts.countAttempt(account.id, at(1), lock),
      ),
    );
    const counted = attempts.flatMap((each) => (each === null ? [] : [each.failed]));
    expect(counted.toSorted()).toEqual([0, 1, 2, 3, 4]);
    expect(await store.accounts.countAttempt(account.id, at(1), lock)).toBeNull();
    expect(await store.accounts.countAttempt(account.id, (at(2) + 1) as Instant, lock)).toMatchObject({ failed: 5 });
    await store.accounts.clearAttempts(account.id);
    expect(await store.accounts.countAttempt(account.id, at(1), lock)).toEqual({ failed: 0, lockedUntil: null });
  });
});

onEachDatabase('a session', (given) => {
  const session = (secretHash: string, accountId: AccountId, change: object = {}) => ({
    secretHash,
    accountId,
    deviceId: null,
    shopId: null,
    createdAt: at(1),
    lastSeenAt: at(1),
    expiresAt: at(13),
    ...change,
  });

  it('is found by its hash until it ends, alone or with the others of its account', async () => {
    const { store } = given();
    const account = anAccount();
    await store.accounts.put(account, 'new');
    for (const each of ['one', 'two', 'three']) await store.signIns.add(session(each, account.id));
    await store.signIns.seen('one', at(2));
    expect(await store.signIns.get('one')).toEqual(session('one', account.id, { lastSeenAt: at(2) }));
    await store.signIns.end('one');
    expect(await store.signIns.get('one')).toBeNull();
    await store.signIns.endAllOf(account.id, 'three');
    expect(await store.signIns.get('two')).toBeNull();
    expect(await store.signIns.get('three')).not.toBeNull();
    expect(await store.signIns.purge(at(14))).toBe(1);
  });

  it('ends with the tablet it is on', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const account = anAccount(shopId);
    await store.accounts.put(account, 'new');
    const device = { shopId, id: DeviceId.parse('d1'), name: 'Tablet', secretHash: 'd', createdAt: at(1) };
    await store.devices.add(device);
    expect(await store.devices.bySecret('d')).toEqual(device);
    await store.signIns.add(session('one', account.id, { deviceId: device.id, shopId }));
    await store.devices.remove(shopId, device.id);
    expect(await store.signIns.get('one')).toBeNull();
    await expect(store.devices.remove(shopId, device.id)).rejects.toThrow(NotFound);
  });
});

onEachDatabase('a token', (given) => {
  it('is found by its hash until it is withdrawn', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const token = {
      shopId,
      id: TokenId.parse('t1'),
      name: 'a program',
      secretHash: 't',
      scopes: ['see', 'book'],
      createdAt: at(1),
      createdBy: 'account:a1',
      expiresAt: null,
    };
    await store.apiTokens.add(token);
    expect(await store.apiTokens.bySecret('t')).toEqual(token);
    expect(await store.apiTokens.list(shopId)).toEqual([token]);
    await store.apiTokens.remove(shopId, token.id);
    expect(await store.apiTokens.bySecret('t')).toBeNull();
    await expect(store.apiTokens.remove(shopId, token.id)).rejects.toThrow(NotFound);
  });
});
