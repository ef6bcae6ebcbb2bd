import type { JobView } from '../../../shop/jobs/job-view.ts';
import { tagOf } from '../../wire/entity-tag.ts';

/** The tag of a job beside its part of the plan. */
export function viewTag(view: JobView): string {
  return tagOf(view.job.version, view.planVersion);
}
