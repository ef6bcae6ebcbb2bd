import { mkdtemp, rm } from 'node:fs/promises';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bombard } from '../bench/hostile/bombard.ts';
import { faultsOf } from '../bench/hostile/judge-reply.ts';
import { type ServedApp, servedApp } from '../bench/hostile/served-app.ts';
import { monday9 } from './shop-documents.ts';

let folder: string;
let app: ServedApp;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'panelday-hostile-'));
  app = await servedApp(`file:${join(folder, 'hostile.db')}`);
});
afterAll(async () => {
  await app?.close();
  await rm(folder, { recursive: true, force: true });
});

/** What a server answers to bytes that are not a request. */
function answerTo(bytes: string): Promise<string> {
  return new Promise((resolve, reject) => {
    let heard = '';
    const socket = connect(app.port, '127.0.0.1', () => socket.write(bytes));
    socket.on('data', (piece) => {
      heard += piece.toString('utf8');
    });
    socket.on('end', () => resolve(heard));
    socket.on('error', reject);
  });
}

describe('whatever is sent, right or wrong', () => {
  test('is answered, never with a failure of ours, and every refusal is a problem document that tells nothing of the inside', async () => {
    // A sample; `npm run bench:hostile` sends fifty thousand, to both stores.
    const result = await bombard({ ...app, now: monday9, seed: 20_260_302, requests: 250 });
    expect(result.faults).toEqual([]);
    expect(app.failures).toEqual([]);
    expect(result.operations).toBeGreaterThan(100);
    // Requests that get past the door, or the sample would prove little.
    expect(result.succeeded.valid + result.succeeded.hostile).toBeGreaterThan(83);
  }, 300_000);

  test('even bytes that are no request, and headers that are too large, are answered as problems', async () => {
    for (const bytes of ['NONSENSE\r\n\r\n', `GET / HTTP/1.1\r\nHost: x\r\nX-Long: ${'a'.repeat(100_000)}\r\n\r\n`]) {
      const answer = await answerTo(bytes);
      expect(answer).toMatch(/^HTTP\/1\.1 400 /);
      expect(answer).toContain('content-type: application/problem+json');
      expect(JSON.parse(answer.split('\r\n\r\n')[1]!)).toMatchObject({
        type: '/problems/invalid-request',
        status: 400,
      });
    }
  });
});

describe('the judge of replies', () => {
  const asked = {
    operation: { id: 'x', method: 'GET', path: '/', parameters: [], endless: false },
    method: 'GET',
    url: '/v1/shops?x=SELECT%20%22Job%22',
    headers: {},
    meant: 'hostile',
  } as const;
  const problem = { type: '/problems/x', title: 'X', status: 400, detail: 'Not so.' };
  const reply = (status: number, body: object | string, type = 'application/problem+json') => ({
    status,
    type,
    headers: {},
    body: typeof body === 'string' ? body : JSON.stringify(body),
  });

  test('finds no fault with a problem of RFC 9457, nor with one that quotes what was sent', () => {
    expect(faultsOf(asked, reply(400, problem))).toEqual([]);
    expect(faultsOf(asked, reply(400, { ...problem, detail: 'no shop SELECT "Job"' }))).toEqual([]);
    expect(faultsOf(asked, reply(200, 'anything', 'text/csv'))).toEqual([]);
  });

  test('and finds failures, leaks and errors of another form', () => {
    expect(faultsOf(asked, reply(500, { ...problem, status: 500 }))).toEqual(['answers 500']);
    expect(faultsOf(asked, reply(400, { ...problem, status: 404 }))).toHaveLength(1);
    expect(faultsOf(asked, reply(400, { message: 'x' }, 'application/json'))).toHaveLength(1);
    expect(faultsOf(asked, reply(400, { ...problem, detail: '' }))).toHaveLength(1);
    for (const detail of [
      'at x (/home/a/b.ts:3:4)',
      'SQLITE_BUSY',
      'INSERT INTO "Job"',
      'PrismaClient says',
      '$argon2id$v',
    ])
      expect(faultsOf(asked, reply(400, { ...problem, detail })), detail).not.toEqual([]);
  });
});
