import { expect, it } from 'vitest';
import { PhotoId } from '../../src/trade/model/ids.ts';
import { Photo } from '../../src/trade/model/photo.ts';
import { onEachDatabase } from './fresh-database.ts';
import { at, jobId, stockedShop } from './samples.ts';

const link = (generation: number, token: string) => ({
  jobId: jobId('j1'),
  generation,
  seed: `seed ${token}`,
  tokenHash: `hash of ${token}`,
  issuedAt: at(1),
});

onEachDatabase('links to customers’ pages', (given) => {
  it('open one job; a newer one closes the one before', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const name = (token: string) => `${shopId} ${token}`;
    expect(await store.customerLinks.issue(shopId, link(1, name('first')))).toBe(true);
    expect(await store.customerLinks.find(`hash of ${name('first')}`)).toEqual({ shopId, jobId: 'j1' });
    expect(await store.customerLinks.issue(shopId, link(2, name('second')))).toBe(true);
    expect(await store.customerLinks.find(`hash of ${name('first')}`)).toBeNull();
    expect(await store.customerLinks.find(`hash of ${name('second')}`)).toEqual({ shopId, jobId: 'j1' });
  });

  it('issued at once from two sides are one', async () => {
    const { store, another } = given();
    const shopId = await stockedShop(store);
    const other = await another();
    const issuing = Array.from({ length: 8 }, (_, n) =>
      (n % 2 ? store : other).customerLinks.issue(shopId, link(1, `${shopId} race ${n}`)),
    );
    expect((await Promise.all(issuing)).filter(Boolean)).toHaveLength(1);
  });

  it('revoked open nothing, until a new one is issued', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.customerLinks.issue(shopId, link(1, `${shopId} a`));
    expect(await store.customerLinks.revoke(shopId, jobId('j1'), 1, at(2))).toBe(true);
    expect(await store.customerLinks.revoke(shopId, jobId('j1'), 1, at(3))).toBe(false);
    expect(await store.customerLinks.find(`hash of ${shopId} a`)).toBeNull();
    expect(await store.customerLinks.get(shopId, jobId('j1'))).toMatchObject({ revokedAt: at(2) });
    expect(await store.customerLinks.issue(shopId, link(2, `${shopId} b`))).toBe(true);
    expect(await store.customerLinks.find(`hash of ${shopId} b`)).not.toBeNull();
  });
});

onEachDatabase('times told', (given) => {
  it('are numbered within their job', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const told = { jobId: jobId('j1'), dropOffAt: at(10), pickupAt: null, toldAt: at(1) };
    expect(await store.toldTimes.append(shopId, told)).toEqual({ ...told, number: 1 });
    await store.toldTimes.append(shopId, { ...told, pickupAt: at(20), toldAt: at(2) });
    await store.toldTimes.append(shopId, { ...told, jobId: jobId('j2') });
    expect((await store.toldTimes.list(shopId, jobId('j1'))).map((each) => each.number)).toEqual([1, 2]);
    expect(await store.toldTimes.latest(shopId, jobId('j1'))).toMatchObject({ number: 2, pickupAt: at(20) });
    expect(await store.toldTimes.latest(shopId, jobId('j3'))).toBeNull();
  });
});

onEachDatabase('photographs', (given) => {
  const photo = (id: string, change: object = {}) =>
    Photo.parse({
      id,
      jobId: 'j1',
      clientId: `client-${id}`,
      type: 'image/jpeg',
      bytes: 5,
      sha256: 'a'.repeat(64),
      operation: null,
      panel: null,
      note: '',
      takenAt: at(1),
      recordedAt: at(1),
      ...change,
    });
  const bytes = Uint8Array.from([0, 255, 1, 254, 127]);

  it('give back every byte', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.photos.add(shopId, photo('p1'), bytes);
    expect(await store.photos.bytes(shopId, PhotoId.parse('p1'))).toEqual(bytes);
    const large = Uint8Array.from({ length: 3_000_000 }, (_, n) => (n * 7919) % 256);
    await store.photos.add(shopId, photo('p2', { bytes: large.length }), large);
    expect(Buffer.compare((await store.photos.bytes(shopId, PhotoId.parse('p2')))!, large)).toBe(0);
  });

  it('are one for each clientId, in the hour’s order, and gone with their job', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.photos.add(shopId, photo('late', { takenAt: at(3) }), bytes);
    await store.photos.add(shopId, photo('early', { takenAt: at(2) }), bytes);
    await expect(store.photos.add(shopId, photo('other', { clientId: 'client-late' }), bytes)).rejects.toMatchObject({
      code: 'alreadyExists',
    });
    expect((await store.photos.list(shopId, jobId('j1'))).map((each) => each.id)).toEqual(['early', 'late']);
    await store.photos.delete(shopId, jobId('j1'), PhotoId.parse('early'));
    expect(await store.photos.bytes(shopId, PhotoId.parse('early'))).toBeNull();
    await store.jobs.delete(shopId, jobId('j1'), 'any');
    expect(await store.photos.bytes(shopId, PhotoId.parse('late'))).toBeNull();
  });
});
