import type { FastifyRequest } from 'fastify';
import { findJob } from '../../../shop/jobs/find-job.ts';
import type { JobId, ShopId } from '../../../trade/model/ids.ts';
import type { ApiDeps } from '../../deps.ts';
import { matchedVersion } from '../../wire/entity-tag.ts';

/** Shop, job and the version that If-Match allows to be changed. */
export async function jobToChange(
  deps: ApiDeps,
  request: FastifyRequest,
  address: { readonly shopId: ShopId; readonly jobId: JobId },
): Promise<{ shopId: ShopId; jobId: JobId; expectedVersion: number }> {
  const { job } = await findJob(deps.shop, address);
  return { ...address, expectedVersion: matchedVersion(request, 'job', job.version) };
}
