import { execFile } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import type { DeskAnswer } from '../../../src/shop/booking/desk.ts';
import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import { createInProcessDesk } from '../../../src/shop/booking/in-process-desk.ts';
import { standingBook } from '../../../src/shop/booking/standing-book.ts';
import { createWorkerDesk } from '../../../src/shop/booking/worker-desk.ts';
import { Busy } from '../../../src/shop/problems/problems.ts';
import { JobId } from '../../../src/trade/model/ids.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

const compiled = new URL('../../../.cache/desk-tests/', import.meta.url);

/** Workers run compiled JavaScript. Errors in files that are being edited do not keep the compiler from writing. */
beforeAll(async () => {
  const tsc = new URL('../../../node_modules/typescript/bin/tsc', import.meta.url).pathname;
  const run = promisify(execFile)(process.execPath, [tsc, '-p', 'tsconfig.build.json', '--outDir', compiled.pathname], {
    cwd: new URL('../../../', import.meta.url).pathname,
  });
  await run.catch(() => {});
}, 120_000);

function desk(file = 'shop/booking/desk-worker.js', timeLimitMs = 60_000) {
  const log = { info() {}, warn() {}, error() {} };
  const made = createWorkerDesk({ seed: 7, timeLimitMs, log, workerUrl: new URL(file, compiled) });
  onTestFinished(() => made.close());
  return made;
}

async function aQuestion() {
  const { deps, shopId } = await aShop();
  const standing = await standingBook(deps.store, shopId, MONDAY_8);
  const job = draftJob(aRequest('walkInWash'), JobId.parse('car'), standing.book);
  const kept = { ...job, dropOffAt: MONDAY_8 };
  return { standing, question: { kind: 'keep' as const, job: kept, pickupAt: null, reason: 'asked' } };
}

describe('the desk’s worker', () => {
  test('answers as the desk in this thread does, and again from the book it has open', async () => {
    const { standing, question } = await aQuestion();
    const here = await createInProcessDesk(7).ask(standing, question);
    expect(here.kind).toBe('kept');
    const there = desk();
    expect(await there.ask(standing, question)).toEqual(here);
    expect(await there.ask(standing, question)).toEqual(here);
  });

  test('asked of a book or one opened since, answers from the one that is open; asked of a book alone, opens that', async () => {
    const { standing, question } = await aQuestion();
    const slots = { kind: 'slots' as const, job: { ...question.job, dropOffAt: null }, wantedDropOffAt: null };
    const everybodyLeft = { ...standing, key: 'since', book: { ...standing.book, technicians: [] } };
    for (const there of [createInProcessDesk(7), desk()]) {
      await there.ask(standing, { kind: 'open' });
      await there.ask(everybodyLeft, { kind: 'open' });
      expect((await there.ask(standing, slots, 'orSince')).kind).not.toBe('slots');
      expect(there.openNow(standing.shopId)).toBe(everybodyLeft);
      expect((await there.ask(standing, slots, 'this')).kind).toBe('slots');
      expect(there.openNow(standing.shopId)).toBe(standing);
    }
  });

  test('tells whoever is not the last to wait of the soonest slot only', async () => {
    const { standing, question } = await aQuestion();
    const slots = { kind: 'slots' as const, job: { ...question.job, dropOffAt: null }, wantedDropOffAt: null };
    const whyOf = (answer: DeskAnswer) => (answer.kind === 'slots' ? answer.slots.map(({ why }) => why) : answer.kind);
    const alone = whyOf(await createInProcessDesk(7, () => 0).ask(standing, slots));
    expect(alone).toContain('soonest');
    expect(alone.length).toBeGreaterThan(1);
    const there = desk();
    await there.ask(standing, { kind: 'open' });
    const [first, second] = await Promise.all([1, 2, 3].map(() => there.ask(standing, slots)));
    expect([whyOf(first!), whyOf(second!)]).toEqual([['soonest'], ['soonest']]);
  });

  test('that never answers is given up after its time', async () => {
    await writeFile(new URL('deaf-desk.js', compiled), 'export default () => { for (;;); };');
    const { standing, question } = await aQuestion();
    await expect(desk('deaf-desk.js', 50).ask(standing, question)).rejects.toThrow(Busy);
  });
});
