import type { KnownWritten } from '../../store/store.ts';
import type { JobId } from '../../trade/model/ids.ts';

/** The jobs of which facts were written. */
export function carsWithNewFacts(written: readonly KnownWritten[]): ReadonlySet<JobId> {
  return new Set(written.flatMap((each) => (each.what === 'facts' ? [each.jobId] : [])));
}
