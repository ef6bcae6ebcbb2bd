import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Opened, openShop, shop } from '../a-shop.ts';

const SCRIPT = 'export const page = 1;\n';

let opened: Opened;
let folder: string;
let web: ReturnType<typeof request>;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'panelday-web-'));
  await writeFile(join(folder, 'index.html'), '<!doctype html><title>Screens</title>');
  await mkdir(join(folder, 'assets'));
  await writeFile(join(folder, 'assets', 'page-1a2b.js'), SCRIPT);
  await writeFile(join(folder, 'assets', 'page-1a2b.js.gz'), gzipSync(SCRIPT));
  opened = await openShop({ api: { webRoot: folder } });
  web = request(opened.app.server);
});
afterAll(async () => {
  await opened.close();
  await rm(folder, { recursive: true, force: true });
});

describe('the built screens', () => {
  test('are served beside the API, and hide none of it', async () => {
    expect((await web.get('/').expect(200)).text).toContain('Screens');
    await web.get(`/v1/shops/${shop.id}`).expect(200);
    expect((await web.get('/docs/').expect(200)).text).toContain('Panelday API');
    expect((await web.get('/v1/nowhere').expect(404)).body.type).toBe('/problems/not-found');
    await web.patch('/v1/shops').expect(405);
  });

  // RFC 9110, sections 8.4 and 12.5.3: a coding is chosen by Accept-Encoding. RFC 8246: what never changes is immutable.
  test('arrive compressed where the browser takes it, and for ever where their name says what is in them', async () => {
    const script = await web.get('/assets/page-1a2b.js').set('accept-encoding', 'gzip').expect(200);
    expect(script.headers['content-encoding']).toBe('gzip');
    expect(script.headers['content-type']).toMatch(/javascript/);
    expect(script.headers['cache-control']).toContain('immutable');
    expect(script.text).toBe(SCRIPT);
    const plain = await web.get('/assets/page-1a2b.js').set('accept-encoding', 'identity').expect(200);
    expect(plain.headers['content-encoding']).toBeUndefined();
    expect((await web.get('/').expect(200)).headers['cache-control']).not.toContain('immutable');
  });

  test('nothing outside their folder is served', async () => {
    for (const path of ['/..%2f..%2fetc/passwd', '/%2e%2e/%2e%2e/etc/passwd', '/.env']) {
      const reply = await web.get(path);
      expect(reply.status, path).toBeGreaterThanOrEqual(400);
      expect(reply.status, path).toBeLessThan(500);
    }
  });
});
