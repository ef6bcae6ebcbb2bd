import type { ShopId } from '../../trade/model/ids.ts';
import { type Plan, PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import { insertRows } from '../connection/insert-rows.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { PlannedJobModel, PlannedOperationModel, PlannedStayModel } from '../generated/sqlite/models.ts';
import type { Provider } from '../provider.ts';
import { checkDocument, readDocument } from './document.ts';
import type { Reference } from './reference.ts';

/** Everything a plan names that must be there. */
export function planReferences(plan: Plan): Reference[] {
  const references: Reference[] = [];
  plan.operations.forEach((operation, index) => {
    const at = `plan.operations.${index}`;
    references.push({ field: `${at}.jobId`, table: 'job', id: operation.jobId });
    if (operation.placeId !== null) references.push({ field: `${at}.placeId`, table: 'place', id: operation.placeId });
    operation.people.forEach((id, person) => {
      references.push({ field: `${at}.people.${person}`, table: 'technician', id });
    });
  });
  plan.stays.forEach((stay, index) => {
    references.push({ field: `plan.stays.${index}.jobId`, table: 'job', id: stay.jobId });
    references.push({ field: `plan.stays.${index}.placeId`, table: 'place', id: stay.placeId });
  });
  plan.jobs.forEach((job, index) => {
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

/** Puts a plan in the place of the current one, in the tables that timelines are read from. */
export async function replacePlanTables(
  transaction: Prisma.TransactionClient,
  provider: Provider,
  shopId: ShopId,
  plan: Plan,
): Promise<void> {
  const where = { shopId };
  await transaction.plannedPerson.deleteMany({ where });
  await transaction.plannedOperation.deleteMany({ where });
  await transaction.plannedStay.deleteMany({ where });
  await transaction.plannedJob.deleteMany({ where });

  const jobs = plan.jobs.map((job) => ({ shopId, jobId: job.jobId, document: JSON.stringify(job) }));
  await insertRows(transaction, provider, 'PlannedJob', JOB_COLUMNS, jobs);
  await insertRows(transaction, provider, 'PlannedStay', STAY_COLUMNS, stayRows(shopId, plan));
  const operations = plan.operations.map((planned) => ({
    shopId,
    jobId: planned.jobId,
    operation: planned.operation,
    startsAt: planned.start,
    endsAt: planned.end,
    placeId: planned.placeId,
    document: JSON.stringify(planned),
  }));
  await insertRows(transaction, provider, 'PlannedOperation', OPERATION_COLUMNS, operations);
  const persons = plan.operations.flatMap(({ people, jobId, operation, start, end }) =>
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

/** Stays numbered within their job in the order of time. */
function stayRows(shopId: ShopId, plan: Plan) {
  const positions = new Map<string, number>();
  return [...plan.stays]
    .sort((a, b) => a.from - b.from || a.to - b.to)
    .map(({ jobId, placeId, from, to }) => {
      const position = positions.get(jobId) ?? 0;
      positions.set(jobId, position + 1);
      return { shopId, jobId, position, placeId, startsAt: from, endsAt: to };
    });
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
