import type { JobId } from '../../trade/model/ids.ts';

/** What a transaction wrote of a shop, as far as it matters to readings that are kept. */
export type Written =
  | { readonly what: 'job' | 'facts'; readonly jobId: JobId }
  | { readonly what: 'plan' | 'readings' }
  /** News, the trail, messages, exceptions, holds, photographs, notes: what is read when it is asked for. */
  | { readonly what: 'aside' }
  /** Whatever else, the shop's own data among it. */
  | { readonly what: 'anything' };

/** What is known of a write that leaves most of a reading as it was. */
export type KnownWritten = Exclude<Written, { what: 'anything' }>;

/**
 * A reading after what was written, made from what it was before; null when it is to be read anew. What was written is read from the
 * store, which may tell more than `written` says and never less.
 */
export type Amend<T> = (was: T, written: readonly KnownWritten[]) => Promise<T> | null;
