import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { forgetOld } from '../../../src/shop/requests/forget-old.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { monday9, type Opened, openShop, shop } from '../../api/a-shop.ts';

let opened: Opened;
beforeEach(async () => {
  opened = await openShop();
});
afterEach(() => opened.close());

const days = (count: number) => (monday9 + count * 86_400_000) as Instant;

describe('forgetting', () => {
  test('takes replies after seven days and news after fourteen, and no number is given twice', async () => {
    const { store } = opened;
    const key = { shopId: shop.id, principal: 'local', route: 'POST /test', key: 'a-key-to-forget' };
    await store.replies.begin(key, 'hash', monday9);
    await store.replies.complete(key, { status: 201, headers: {}, body: '{}' });
    await store.outbox.append(shop.id, { kind: 'x', subject: 'old', at: monday9, body: {} });

    opened.setNow(days(6));
    expect(await forgetOld(opened.deps)).toEqual({ replies: 0, news: 0, plans: 0 });
    opened.setNow(days(8));
    expect(await forgetOld(opened.deps)).toEqual({ replies: 1, news: 0, plans: 0 });
    opened.setNow(days(15));
    expect((await forgetOld(opened.deps)).news).toBe(1);
    const told = await store.outbox.lastSequence(shop.id);
    await store.outbox.append(shop.id, { kind: 'x', subject: 'new', at: days(15), body: {} });
    expect(await store.outbox.lastSequence(shop.id)).toBe(told + 1);
  });

  test('takes the trail of changes after four hundred days, and not before', async () => {
    const trail = () => opened.store.audit.list(shop.id, { limit: 200 });
    const before = await trail();
    expect(before.length).toBeGreaterThan(5);
    opened.setNow(days(399));
    await forgetOld(opened.deps);
    expect(await trail()).toEqual(before);
    opened.setNow(days(401));
    await forgetOld(opened.deps);
    expect(await trail()).toEqual([]);
  });
});
