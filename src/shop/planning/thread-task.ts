import type { MessagePort } from 'node:worker_threads';
import type { Piscina } from 'piscina';

const WAITING = 0;
const BEGUN = 1;
const GIVEN_UP = 2;

/** How far a task has come, and the second since the epoch in which its work began, in memory that both threads see. */
type Standing = Int32Array;

const nowSeconds = () => Math.floor(Date.now() / 1000);

/** Nobody waits for the task any more. */
export class GivenUp extends Error {
  override readonly name = 'GivenUp';
}

interface Terms {
  readonly filename: string;
  /** Gives the task up: whoever asked hears it at once. */
  readonly giveUp: AbortSignal;
  /**
   * So many milliseconds its work may take from when it began, whoever has given it up meanwhile: a task that waited long for its turn
   * does not cost the thread what it has open and compiled. Absent: none.
   */
  readonly workMs?: number;
  readonly transferList?: readonly MessagePort[];
}

/**
 * Runs a task on a thread. A task that is given up has its thread ended and replaced, but only once its work has begun: Node.js
 * ends the whole process when a thread is ended while it still loads its code. Before that the task is left to find out by itself.
 * @throws GivenUp, and whatever the task throws
 */
export async function onThread<Reply>(
  threads: Piscina,
  task: object,
  { filename, giveUp, workMs = 0, transferList }: Terms,
): Promise<Reply> {
  const standing: Standing = new Int32Array(new SharedArrayBuffer(8));
  const kill = new AbortController();
  let killing: NodeJS.Timeout | undefined;
  let end = () => {};
  const givenUp = new Promise<never>((_, reject) => {
    end = () => {
      reject(new GivenUp('The task was given up.'));
      if (Atomics.compareExchange(standing, 0, WAITING, GIVEN_UP) !== BEGUN) return;
      const leftMs = workMs - 1000 * (nowSeconds() - Atomics.load(standing, 1));
      if (leftMs <= 0) kill.abort();
      else killing = setTimeout(() => kill.abort(), leftMs).unref();
    };
  });
  if (giveUp.aborted) end();
  else giveUp.addEventListener('abort', end, { once: true });
  const reply: Promise<Reply> = threads.run(
    { ...task, standing },
    { filename, signal: kill.signal, ...(transferList ? { transferList: [...transferList] } : {}) },
  );
  // Whichever of the two comes later is nobody's business any more.
  givenUp.catch(() => {});
  reply.catch(() => {}).finally(() => clearTimeout(killing));
  try {
    return await Promise.race([reply, givenUp]);
  } finally {
    giveUp.removeEventListener('abort', end);
  }
}

/** The thread's side: work that begins unless it was given up before. */
export function begins<Task, Reply>(work: (task: Task) => Reply): (task: Task & { standing: Standing }) => Reply {
  return (task) => {
    Atomics.store(task.standing, 1, nowSeconds());
    const before = Atomics.compareExchange(task.standing, 0, WAITING, BEGUN);
    if (before === GIVEN_UP) throw new GivenUp('The task was given up before it began.');
    return work(task);
  };
}
