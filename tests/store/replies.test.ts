import { expect, it } from 'vitest';
import { onEachDatabase } from './fresh-database.ts';
import { aJob, at, HOUR, jobId, stockedShop } from './samples.ts';

const DAY = 24;
const reply = { status: 201, headers: { location: '/v1/jobs/j9', etag: '"1"' }, body: '{"id":"j9"}' };

let keys = 0;
const freshKey = (change: object = {}) => {
  keys += 1;
  return { shopId: 's1', principal: 'desk', route: 'POST /v1/shops/:shopId/jobs', key: `key-${keys}`, ...change };
};

onEachDatabase('a request with an idempotency key', (given) => {
  it('is claimed once, found in flight, and after its reply found done', async () => {
    const { store } = given();
    const key = freshKey();
    expect(await store.replies.begin(key, 'hash', at(1))).toEqual({ claimed: true });
    expect(await store.replies.begin(key, 'hash', at(1))).toEqual({
      claimed: false,
      found: { bodyHash: 'hash', state: 'inFlight', reply: null, createdAt: at(1) },
    });
    await store.replies.complete(key, reply);
    expect(await store.replies.begin(key, 'other', at(2))).toEqual({
      claimed: false,
      found: { bodyHash: 'hash', state: 'done', reply, createdAt: at(1) },
    });
  });

  it('is claimed by exactly one of two that come at once', async () => {
    const { store, another } = given();
    const other = await another();
    for (let round = 0; round < 5; round += 1) {
      const key = freshKey();
      const answers = await Promise.all([
        store.replies.begin(key, 'hash', at(1)),
        other.replies.begin(key, 'hash', at(1)),
      ]);
      expect(answers.map((answer) => answer.claimed).sort()).toEqual([false, true]);
    }
  });

  it('is another one for another shop, principal, route or key', async () => {
    const { store } = given();
    const key = freshKey();
    await store.replies.begin(key, 'hash', at(1));
    for (const change of [
      { shopId: '' },
      { principal: 'floor' },
      { route: 'POST /v1/shops' },
      { key: `${key.key}x` },
    ]) {
      expect(await store.replies.begin({ ...key, ...change }, 'hash', at(1))).toEqual({ claimed: true });
    }
  });

  it('keeps its reply only if its effect is kept', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const key = freshKey({ shopId });
    await store.replies.begin(key, 'hash', at(1));
    const failing = store.transaction(shopId, async (records) => {
      await records.jobs.put(shopId, aJob('j9'), 'new');
      await records.replies.complete(key, reply);
      throw new Error('power cut');
    });
    await expect(failing).rejects.toThrow('power cut');
    expect(await store.jobs.get(shopId, jobId('j9'))).toBeNull();
    expect(await store.replies.begin(key, 'hash', at(1))).toMatchObject({ found: { state: 'inFlight' } });
  });

  it('may be sent again after it was abandoned, but not after its reply', async () => {
    const { store } = given();
    const key = freshKey();
    await store.replies.begin(key, 'hash', at(1));
    await store.replies.abandon(key);
    expect(await store.replies.begin(key, 'hash', at(1))).toEqual({ claimed: true });
    await store.replies.complete(key, reply);
    await store.replies.abandon(key);
    expect(await store.replies.begin(key, 'hash', at(1))).toMatchObject({ found: { state: 'done' } });
    await expect(store.replies.complete(key, reply)).rejects.toMatchObject({ code: 'notFound' });
  });

  it('whose process died is claimed anew after a minute, with the same body only', async () => {
    const { store } = given();
    const key = freshKey();
    await store.replies.begin(key, 'hash', at(1));
    const minuteLater = (at(1) + 60_001) as ReturnType<typeof at>;
    expect((await store.replies.begin(key, 'other', minuteLater)).claimed).toBe(false);
    expect(await store.replies.begin(key, 'hash', minuteLater)).toEqual({ claimed: true });
    expect((await store.replies.begin(key, 'hash', minuteLater)).claimed).toBe(false);
  });

  it('is kept for seven days', async () => {
    const { store } = given();
    const key = freshKey();
    await store.replies.begin(key, 'hash', at(0));
    await store.replies.complete(key, reply);
    const sevenDays = at(7 * DAY);
    expect((await store.replies.begin(key, 'hash', sevenDays)).claimed).toBe(false);
    const justAfter = (sevenDays + 1) as ReturnType<typeof at>;
    expect(await store.replies.begin(key, 'hash', justAfter)).toEqual({ claimed: true });
    expect(await store.replies.purge((justAfter + 7 * DAY * HOUR + 1) as ReturnType<typeof at>)).toBeGreaterThanOrEqual(
      1,
    );
    expect(await store.replies.begin(key, 'another', justAfter)).toEqual({ claimed: true });
  });
});
