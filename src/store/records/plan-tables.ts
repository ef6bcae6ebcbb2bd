import type { ShopId } from '../../trade/model/ids.ts';
import { PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { PlanChange } from '../../trade/model/plan-change.ts';
import { deleteRows, insertRows } from '../connection/many-rows.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { PlannedJobModel, PlannedOperationModel, PlannedStayModel } from '../generated/sqlite/models.ts';
import type { Provider } from '../provider.ts';
import { checkDocument, readDocument } from './document.ts';
import type { Reference } from './reference.ts';

/** Everything a change names that must be there. */
export function changeReferences(change: PlanChange): Reference[] {
  const references: Reference[] = [];
  change.operations.forEach((operation, index) => {
    const at = `plan.operations.${index}`;
    references.push({ field: `${at}.jobId`, table: 'job', id: operation.jobId });
    if (operation.placeId !== null) references.push({ field: `${at}.placeId`, table: 'place', id: operation.placeId });
    operation.people.forEach((id, person) => {
      references.push({ field: `${at}.people.${person}`, table: 'technician', id });
    });
  });
  change.stays.forEach(({ jobId, stays }, index) => {
    if (stays.length > 0) references.push({ field: `plan.stays.${index}.jobId`, table: 'job', id: jobId });
    for (const { placeId } of stays) {
      references.push({ field: `plan.stays.${index}.placeId`, table: 'place', id: placeId });
    }
  });
  change.jobs.forEach((job, index) => {
    references.push({ field: `plan.jobs.${index}.jobId`, table: 'job', id: job.jobId });
  });
  return references;
}

const JOB_COLUMNS = { shopId: 'text', jobId: 'text', document: 'text' } as const;

const STAY_COLUMNS = {
  shopId: 'text',
  jobId: 'text',
  position: 'integer',
  startsAt: 'bigint',
  endsAt: 'bigint',
  placeId: 'text',
} as const;

const OPERATION_COLUMNS = {
  shopId: 'text',
  jobId: 'text',
  operation: 'text',
  startsAt: 'bigint',
  endsAt: 'bigint',
  placeId: 'text',
  document: 'text',
} as const;

const PERSON_COLUMNS = {
  shopId: 'text',
  technicianId: 'text',
  jobId: 'text',
  operation: 'text',
  startsAt: 'bigint',
  endsAt: 'bigint',
} as const;

const OF_JOB = { shopId: 'text', jobId: 'text' } as const;
const OF_OPERATION = { ...OF_JOB, operation: 'text' } as const;

/** Makes the tables that timelines are read from those of the next plan; rows that stay as they are are not touched. */
export async function changePlanTables(
  transaction: Prisma.TransactionClient,
  provider: Provider,
  shopId: ShopId,
  change: PlanChange,
): Promise<void> {
  const operationKeys = [...change.operations, ...change.operationsGone].map(({ jobId, operation }) => ({
    shopId,
    jobId,
    operation,
  }));
  // Who does them goes with them.
  await deleteRows(transaction, provider, 'PlannedOperation', OF_OPERATION, operationKeys);
  const movedJobs = change.stays.map(({ jobId }) => ({ shopId, jobId }));
  await deleteRows(transaction, provider, 'PlannedStay', OF_JOB, movedJobs);
  const jobKeys = [...change.jobs.map(({ jobId }) => jobId), ...change.jobsGone].map((jobId) => ({ shopId, jobId }));
  await deleteRows(transaction, provider, 'PlannedJob', OF_JOB, jobKeys);

  const jobs = change.jobs.map((job) => ({ shopId, jobId: job.jobId, document: JSON.stringify(job) }));
  await insertRows(transaction, provider, 'PlannedJob', JOB_COLUMNS, jobs);
  const stays = change.stays.flatMap(({ jobId, stays }) =>
    stays.map(({ placeId, from, to }, position) => ({ shopId, jobId, position, placeId, startsAt: from, endsAt: to })),
  );
  await insertRows(transaction, provider, 'PlannedStay', STAY_COLUMNS, stays);
  const operations = change.operations.map((planned) => ({
    shopId,
    jobId: planned.jobId,
    operation: planned.operation,
    startsAt: planned.start,
    endsAt: planned.end,
    placeId: planned.placeId,
    document: JSON.stringify(planned),
  }));
  await insertRows(transaction, provider, 'PlannedOperation', OPERATION_COLUMNS, operations);
  const persons = change.operations.flatMap(({ people, jobId, operation, start, end }) =>
    [...new Set(people)].map((technicianId) => ({
      shopId,
      technicianId,
      jobId,
      operation,
      startsAt: start,
      endsAt: end,
    })),
  );
  await insertRows(transaction, provider, 'PlannedPerson', PERSON_COLUMNS, persons);
}

export function readOperation(row: PlannedOperationModel): PlannedOperation {
  return readDocument(PlannedOperation, row.document, `planned operation ${row.shopId}/${row.jobId}/${row.operation}`);
}

export function readStay(row: PlannedStayModel): PlannedStay {
  return checkDocument(
    PlannedStay,
    {
      jobId: row.jobId,
      placeId: row.placeId,
      from: Number(row.startsAt),
      to: Number(row.endsAt),
    },
    `planned stay ${row.shopId}/${row.jobId}/${row.position}`,
  );
}

export function readPlannedJob(row: PlannedJobModel): PlannedJob {
  return readDocument(PlannedJob, row.document, `planned job ${row.shopId}/${row.jobId}`);
}
