import type { Job } from '../../trade/model/job.ts';
import { commonNorms } from '../../trade/work-content/common-norms.ts';
import { machinePasses } from '../../trade/work-content/passes.ts';

/** Machine passes the booking assumed, the finishing one included: what runs unless the customer says otherwise. */
export function bookedPasses(job: Job): number {
  const hardness = job.vehicle.paintHardness ?? commonNorms.hardnessPrior[job.vehicle.class];
  const { compound, finish } = machinePasses(job.condition.defects, hardness);
  return compound + finish;
}
