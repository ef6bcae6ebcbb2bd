import { readdirSync } from 'node:fs';
import { setPriority } from 'node:os';

/** Behind whoever serves, and before the threads that think (`thinking-threads.ts`). */
const NICE = 4;

/**
 * V8 compiles and collects garbage for all threads on a few helpers that the process begins with, as urgent as the thread that serves. Most of what they
 * do is for threads that think, so they give way to it. To be called before any other thread is made; of Linux, elsewhere it does nothing.
 */
export function helpersGiveWay(): void {
  if (process.platform !== 'linux') return;
  for (const name of readdirSync('/proc/self/task')) {
    const thread = Number(name);
    if (thread === process.pid) continue;
    try {
      setPriority(thread, NICE);
    } catch {
      // It has ended, or the system does not allow it; nothing depends on it.
    }
  }
}
