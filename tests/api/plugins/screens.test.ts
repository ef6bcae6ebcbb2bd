import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Opened, openShop, shop } from '../a-shop.ts';

let opened: Opened;
let folder: string;
let web: ReturnType<typeof request>;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'panelday-web-'));
  await writeFile(join(folder, 'index.html'), '<!doctype html><title>Screens</title>');
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

  test('nothing outside their folder is served', async () => {
    for (const path of ['/..%2f..%2fetc/passwd', '/%2e%2e/%2e%2e/etc/passwd', '/.env']) {
      const reply = await web.get(path);
      expect(reply.status, path).toBeGreaterThanOrEqual(400);
      expect(reply.status, path).toBeLessThan(500);
    }
  });
});
