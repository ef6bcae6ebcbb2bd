import { setImmediate as nextTurn } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/**
 * Has everything collected that nobody holds any more, and what was kept outside of the heap for it freed. It stops the thread for a tenth of a second,
 * and is for what hardly ever happens.
 */
export async function collectGarbage(): Promise<void> {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  // What a first collection finds to be free is freed a turn later, and may be what held on to more.
  for (let round = 0; round < 2; round++) {
    collect();
    await nextTurn();
  }
}
