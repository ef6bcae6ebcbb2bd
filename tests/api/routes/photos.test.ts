import { PNG } from 'pngjs';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aJob } from '../a-job.ts';
import { key, type Opened, openShop, shop } from '../a-shop.ts';

/** A picture that a reader of PNG made; `shade` makes it another. */
function png(shade: number): Buffer {
  const picture = new PNG({ width: 8, height: 8 });
  picture.data.fill(shade);
  return PNG.sync.write(picture);
}

// The marks of the formats: JPEG File Interchange Format 1.02 (SOI, APP0 "JFIF"); WebP container, RFC 9649 section 2.3.
const jpeg = Buffer.concat([Buffer.from('ffd8ffe000104a46494600010100000100010000ffdb', 'hex'), Buffer.alloc(200, 7)]);
const webp = Buffer.concat([Buffer.from('RIFF\u0064\0\0\0WEBPVP8 ', 'latin1'), Buffer.alloc(100, 7)]);

let opened: Opened;
let api: ReturnType<typeof request>;
let photos: string;

beforeAll(async () => {
  opened = await openShop();
  api = request(opened.app.server);
  const job = await aJob(opened.store);
  photos = `/v1/shops/${shop.id}/jobs/${job.id}/photos`;
});
afterAll(() => opened.close());

let made = 0;
const send = (bytes: Buffer, type: string, query: Record<string, string> = {}) => {
  made += 1;
  return api
    .post(photos)
    .query({ clientId: `tablet-photo-${made}`, ...query })
    .set(key())
    .set('content-type', type)
    .send(bytes);
};

describe('photographs of a car', () => {
  test('JPEG, PNG and WebP are kept as what their bytes are, and read back byte by byte', async () => {
    for (const [bytes, type] of [
      [jpeg, 'image/jpeg'],
      [png(1), 'image/png'],
      [webp, 'image/webp'],
    ] as const) {
      const kept = await send(bytes, 'image/jpeg').expect(201);
      expect(kept.body).toMatchObject({ type, bytes: bytes.length, operation: null, panel: null });
      const read = await api
        .get(kept.headers.location as string)
        .buffer(true)
        .parse((reply, done) => {
          const parts: Buffer[] = [];
          reply.on('data', (part: Buffer) => parts.push(part));
          reply.on('end', () => done(null, Buffer.concat(parts)));
        })
        .expect(200);
      expect(read.headers['content-type']).toBe(type);
      expect(read.headers['x-content-type-options']).toBe('nosniff');
      expect(Buffer.compare(read.body as Buffer, bytes)).toBe(0);
      await api
        .get(kept.headers.location as string)
        .set('if-none-match', String(read.headers.etag))
        .expect(304);
    }
  });

  test('what is no picture is refused, whatever it is said to be', async () => {
    const page = await send(Buffer.from('<!doctype html><script>alert(1)</script>'), 'image/png').expect(400);
    expect(page.body.type).toBe('/problems/invalid-request');
    await send(Buffer.from('GIF89a\x01\0\x01\0\0\0\0;'), 'image/png').expect(400);
    await send(Buffer.alloc(0), 'image/png').expect(400);
    await api.post(photos).query({ clientId: 'tablet-json-1' }).set(key()).send({ a: 1 }).expect(415);
    await send(png(2), 'image/svg+xml').expect(415);
  });

  test('a picture of more than 8 MiB is too large', async () => {
    await send(Buffer.concat([jpeg, Buffer.alloc(8 * 1024 * 1024)]), 'image/jpeg').expect(413);
  });

  test('sent twice by a device it is one photograph, under a new request too', async () => {
    const bytes = png(3);
    const first = await send(bytes, 'image/png', { clientId: 'tablet-twice-1' }).expect(201);
    const again = await send(bytes, 'image/png', { clientId: 'tablet-twice-1' }).expect(200);
    expect(again.body.id).toBe(first.body.id);
    const other = await send(bytes, 'image/png', { clientId: 'tablet-twice-2' }).expect(200);
    expect(other.body.id).toBe(first.body.id);
    const elsewhere = await send(bytes, 'image/png', { clientId: 'tablet-twice-3', panel: 'roof' }).expect(201);
    expect(elsewhere.body.panel).toBe('roof');
    await send(png(4), 'image/png', { clientId: 'tablet-twice-1' }).expect(409);
  });

  test('it belongs to an operation, a panel and a note, and never to an operation the job has not', async () => {
    const kept = await send(png(5), 'image/png', { operation: 'foam', panel: 'bonnet', note: 'stone chip' }).expect(
      201,
    );
    expect(kept.body).toMatchObject({ operation: 'foam', panel: 'bonnet', note: 'stone chip' });
    await send(png(6), 'image/png', { operation: 'polishing' }).expect(400);
    await send(png(7), 'image/png', { panel: 'wing of a bird' }).expect(400);
  });

  test('thrown away it is gone, bytes and all', async () => {
    const kept = await send(png(8), 'image/png').expect(201);
    const address = kept.headers.location as string;
    await api.delete(address).expect(428);
    await api.delete(address).set('if-match', '"1"').expect(204);
    await api.get(address).expect(404);
    expect(await opened.store.photos.bytes(shop.id, kept.body.id)).toBeNull();
    const left = await api.get(photos).expect(200);
    expect(left.body.items.map((each: { id: string }) => each.id)).not.toContain(kept.body.id);
  });

  test('a photograph of another job is not found under this one', async () => {
    const kept = await send(png(9), 'image/png').expect(201);
    const other = await aJob(opened.store);
    await api.get(`/v1/shops/${shop.id}/jobs/${other.id}/photos/${kept.body.id}`).expect(404);
    await api.delete(`/v1/shops/${shop.id}/jobs/${other.id}/photos/${kept.body.id}`).set('if-match', '*').expect(404);
  });
});
