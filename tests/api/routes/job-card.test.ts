import jsQR from 'jsqr';
import request from 'supertest';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { linkTokens } from '../../../src/shop/customer/link-tokens.ts';
import { aJob } from '../a-job.ts';
import { type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
beforeAll(async () => {
  const tokens = linkTokens('');
  opened = await openShop({ api: { customers: { tokens, publicUrl: () => 'https://wash.invalid', mailer: null } } });
});
afterAll(() => opened.close());

const SCALE = 8;

/** Paints the code's squares, as a printer does; the only paths in it are squares of one module. */
function painted(svg: string): { pixels: Uint8ClampedArray; size: number } {
  const modules = Number(/viewBox="0 0 (\d+) \1"/.exec(svg)?.[1]);
  const size = modules * SCALE;
  const pixels = new Uint8ClampedArray(size * size * 4).fill(255);
  const path = /<path d="([^"]+)"/.exec(svg)?.[1] ?? '';
  let [x, y] = [0, 0];
  for (const [, command, left, top] of path.matchAll(/([Mm]) ?(-?\d+)[ ,]?(-?\d+)h1v1[hH]-?\d+[zZ]/g)) {
    [x, y] = command === 'M' ? [Number(left), Number(top)] : [x + Number(left), y + Number(top)];
    for (let row = y * SCALE; row < (y + 1) * SCALE; row++) {
      for (let column = x * SCALE; column < (x + 1) * SCALE; column++)
        pixels.fill(0, (row * size + column) * 4, (row * size + column) * 4 + 3);
    }
  }
  return { pixels, size };
}

// Decoded by jsQR, which shares nothing with the library that encodes (ISO/IEC 18004 is between them).
test.each(['desk', 'floor'])('the code on a job card leads to the job on the %s', async (screen) => {
  const job = await aJob(opened.store);
  const reply = await request(opened.app.server)
    .get(`/v1/shops/${shop.id}/jobs/${job.id}/qr.svg?screen=${screen}`)
    .buffer(true)
    .parse((answer, done) => {
      let text = '';
      answer.on('data', (part: Buffer) => (text += part.toString()));
      answer.on('end', () => done(null, text));
    })
    .expect(200);
  expect(reply.headers['content-type']).toBe('image/svg+xml; charset=utf-8');
  const svg = reply.body as string;
  expect(svg).toContain('fill="#fff"');
  const { pixels, size } = painted(svg);
  expect(jsQR.default(pixels, size, size)?.data).toBe(`https://wash.invalid/${screen}.html?job=${job.id}`);
});

test('there is no code for a job that is not there', async () => {
  await request(opened.app.server).get(`/v1/shops/${shop.id}/jobs/none/qr.svg`).expect(404);
});
