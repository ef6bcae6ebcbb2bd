import { setTimeout as pause } from 'node:timers/promises';
import type { ServerProcess } from './server-process.ts';

const LOOK_EVERY_MS = 250;
/** Processor time of a look in which nothing but timers ran. */
const NOTHING_MS = 20;
const LOOKS = 3;
const LONGEST_MS = 60_000;

/** Waits until the server has done what followed its last reply: the search for a better plan, the promises, the desk's book. */
export async function atRest(server: Pick<ServerProcess, 'processorMs'>): Promise<void> {
  let before = server.processorMs();
  for (let waited = 0, quiet = 0; quiet < LOOKS && waited < LONGEST_MS; waited += LOOK_EVERY_MS) {
    await pause(LOOK_EVERY_MS);
    const now = server.processorMs();
    quiet = now - before <= NOTHING_MS ? quiet + 1 : 0;
    before = now;
  }
}
