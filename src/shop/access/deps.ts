import type { Store } from '../../store/store.ts';
import type { Clock, Log } from '../deps.ts';

/** What admitting people needs. */
export interface AccessDeps {
  readonly store: Store;
  readonly clock: Clock;
  readonly newId: () => string;
  readonly log: Log;
}
