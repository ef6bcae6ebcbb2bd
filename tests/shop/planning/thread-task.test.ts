import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Piscina } from 'piscina';
import { expect, onTestFinished, test } from 'vitest';
import { begins, GivenUp, onThread } from '../../../src/shop/planning/thread-task.ts';

/** A thread, and a task for it made of these lines. */
async function aThread(code: string) {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-thread-'));
  const file = join(folder, 'task.mjs');
  await writeFile(file, code);
  const threads = new Piscina({ minThreads: 1, maxThreads: 1 });
  onTestFinished(async () => {
    await threads.destroy();
    await rm(folder, { recursive: true, force: true });
  });
  return { threads, filename: pathToFileURL(file).href };
}

const never = new AbortController().signal;

test('a task replies', async () => {
  const { threads, filename } = await aThread('export default ({ x }) => x + 1;');
  expect(await onThread(threads, { x: 1 }, { filename, giveUp: never })).toBe(2);
});

test('a task given up while it works has its thread replaced, and the next one is answered', async () => {
  const { threads, filename } = await aThread(
    'export default ({ standing, hang }) => { Atomics.store(standing, 0, 1); while (hang) ; return threadId; };' +
      "import { threadId } from 'node:worker_threads';",
  );
  const first = await onThread<number>(threads, { hang: false }, { filename, giveUp: never });
  const hung = onThread(threads, { hang: true }, { filename, giveUp: AbortSignal.timeout(200) });
  await expect(hung).rejects.toThrow(GivenUp);
  expect(await onThread<number>(threads, { hang: false }, { filename, giveUp: never })).not.toBe(first);
});

test('a task given up while its code is still loading is not torn down: the thread loads on and is used again', async () => {
  const { threads, filename } = await aThread(
    "import { threadId } from 'node:worker_threads';" +
      'await new Promise((loaded) => setTimeout(loaded, 500));' +
      'export default ({ standing }) => { if (Atomics.load(standing, 0) === 2) throw new Error(); return threadId; };',
  );
  const early = onThread(threads, {}, { filename, giveUp: AbortSignal.timeout(50) });
  await expect(early).rejects.toThrow(GivenUp);
  const thread = await onThread<number>(threads, {}, { filename, giveUp: never });
  expect(threads.threads.map((each) => each.threadId)).toEqual([thread]);
});

test('a task given up soon after its work began keeps the thread for as long as its work may take', async () => {
  const { threads, filename } = await aThread(
    "import { threadId } from 'node:worker_threads';" +
      'export default ({ standing, busyMs }) => {' +
      '  const now = () => Math.floor(Date.now() / 1000);' +
      '  Atomics.store(standing, 1, now()); Atomics.store(standing, 0, 1);' +
      '  const until = Date.now() + busyMs; while (Date.now() < until) ; return threadId; };',
  );
  const first = await onThread<number>(threads, { busyMs: 0 }, { filename, giveUp: never });
  const impatient = (busyMs: number, workMs: number) =>
    onThread(threads, { busyMs }, { filename, giveUp: AbortSignal.timeout(100), workMs });
  await expect(impatient(600, 60_000)).rejects.toThrow(GivenUp);
  expect(await onThread<number>(threads, { busyMs: 0 }, { filename, giveUp: never })).toBe(first);
  await expect(impatient(60_000, 2_000)).rejects.toThrow(GivenUp);
  expect(await onThread<number>(threads, { busyMs: 0 }, { filename, giveUp: never })).not.toBe(first);
});

test('work that was given up before its turn does not begin', () => {
  let began = 0;
  const work = begins(() => {
    began++;
  });
  const standing = new Int32Array(new SharedArrayBuffer(8));
  work({ standing });
  Atomics.store(standing, 0, 2);
  expect(() => work({ standing })).toThrow(GivenUp);
  expect(began).toBe(1);
});
