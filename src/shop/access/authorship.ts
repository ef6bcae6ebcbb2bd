import { AsyncLocalStorage } from 'node:async_hooks';
import { type Author, THE_SERVER } from '../../store/store.ts';

/** In whose name the running code writes, carried along with what it awaits and with what it sets going. */
export interface Authorship {
  /** Runs work, and whatever it sets going, in somebody's name. */
  run<T>(author: Author, work: () => T): T;
  current(): Author;
}

export function createAuthorship(): Authorship {
  const acting = new AsyncLocalStorage<Author>();
  return {
    run: (author, work) => acting.run(author, work),
    current: () => acting.getStore() ?? THE_SERVER,
  };
}
