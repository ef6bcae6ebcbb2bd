import { Coating } from '../../trade/model/coating.ts';
import { DeskException } from '../../trade/model/desk-exception.ts';
import { Equipment } from '../../trade/model/equipment.ts';
import { Job } from '../../trade/model/job.ts';
import { Technician } from '../../trade/model/people.ts';
import { Recipe } from '../../trade/model/recipe.ts';
import { AirZone, Place } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import { toldToCome } from '../../trade/model/told-to-come.ts';
import type { DocumentKind } from './document-kind.ts';
import { foldForSearch } from './job-search.ts';
import type { Reference } from './reference.ts';

const inZone = (airZoneId: string | null): Reference[] =>
  airZoneId === null ? [] : [{ field: 'airZoneId', table: 'airZone', id: airZoneId }];

export const airZoneKind: DocumentKind<AirZone> = {
  table: 'airZone',
  model: AirZone,
  columns: () => ({}),
  references: () => [],
  referencedBy: [
    { by: 'place', table: 'place', where: (id) => ({ airZoneId: id }) },
    { by: 'equipment', table: 'equipment', where: (id) => ({ airZoneId: id }) },
    { by: 'reading', table: 'reading', where: (id) => ({ airZoneId: id }) },
  ],
};

export const placeKind: DocumentKind<Place> = {
  table: 'place',
  model: Place,
  columns: (place) => ({ airZoneId: place.airZoneId }),
  references: (place) => [
    ...inZone(place.airZoneId),
    ...place.blockedBy
      .map((id, index): Reference => ({ field: `blockedBy.${index}`, table: 'place', id }))
      .filter(({ id }) => id !== place.id),
  ],
  links: {
    table: 'placeBlock',
    ownerColumn: 'placeId',
    rows: (place) => [...new Set(place.blockedBy)].map((blockedById) => ({ blockedById })),
  },
  referencedBy: [
    { by: 'place', table: 'placeBlock', where: (id) => ({ blockedById: id, placeId: { not: id } }) },
    { by: 'plan', table: 'plannedOperation', where: (id) => ({ placeId: id }) },
    { by: 'plan', table: 'plannedStay', where: (id) => ({ placeId: id }) },
    { by: 'occupancy', table: 'occupancy', where: (id) => ({ placeId: id }) },
  ],
};

export const technicianKind: DocumentKind<Technician> = {
  table: 'technician',
  model: Technician,
  columns: () => ({}),
  references: (technician) =>
    technician.certificates.map(({ coatingId }, index) => ({
      field: `certificates.${index}.coatingId`,
      table: 'coating',
      id: coatingId,
    })),
  links: {
    table: 'technicianCertificate',
    ownerColumn: 'technicianId',
    rows: (technician) =>
      [...new Set(technician.certificates.map((each) => each.coatingId))].map((coatingId) => ({ coatingId })),
  },
  referencedBy: [
    { by: 'job', table: 'job', where: (id) => ({ OR: [{ dropOffById: id }, { pickupById: id }] }) },
    { by: 'plan', table: 'plannedPerson', where: (id) => ({ technicianId: id }) },
  ],
};

export const equipmentKind: DocumentKind<Equipment> = {
  table: 'equipment',
  model: Equipment,
  columns: (equipment) => ({ airZoneId: equipment.airZoneId }),
  references: (equipment) => inZone(equipment.airZoneId),
  referencedBy: [],
};

export const coatingKind: DocumentKind<Coating> = {
  table: 'coating',
  model: Coating,
  columns: () => ({}),
  references: () => [],
  referencedBy: [
    { by: 'recipe', table: 'recipeCoating', where: (id) => ({ coatingId: id }) },
    { by: 'technician', table: 'technicianCertificate', where: (id) => ({ coatingId: id }) },
  ],
};

const coatingSteps = (recipe: Recipe): { index: number; id: string }[] =>
  recipe.steps.flatMap((step, index) => (step.coatingId === null ? [] : [{ index, id: step.coatingId }]));

export const recipeKind: DocumentKind<Recipe> = {
  table: 'recipe',
  model: Recipe,
  columns: () => ({}),
  references: (recipe) =>
    coatingSteps(recipe).map(({ index, id }) => ({ field: `steps.${index}.coatingId`, table: 'coating', id })),
  links: {
    table: 'recipeCoating',
    ownerColumn: 'recipeId',
    rows: (recipe) => [...new Set(coatingSteps(recipe).map(({ id }) => id))].map((coatingId) => ({ coatingId })),
  },
  referencedBy: [{ by: 'job', table: 'job', where: (id) => ({ recipeId: id }) }],
};

/** When a car is there: as it really came and left, and where it has not yet, as told. */
function visitOf(job: Job): { arrivesAt: Instant; leavesAt: Instant } {
  const told = toldToCome(job);
  const arrivesAt = job.cameAt ?? (Math.min(told, job.leftAt ?? told) as Instant);
  const toldToLeave = job.promise?.pickupAt ?? job.wantedPickupAt ?? arrivesAt;
  return { arrivesAt, leavesAt: Math.max(arrivesAt, job.leftAt ?? toldToLeave) as Instant };
}

export const jobKind: DocumentKind<Job> = {
  table: 'job',
  written: (id) => ({ what: 'job', jobId: id as Job['id'] }),
  model: Job,
  withVersion: (job, version) => (job.version === version ? job : Object.freeze({ ...job, version })),
  columns: (job) => {
    const { arrivesAt, leavesAt } = visitOf(job);
    return {
      state: job.state,
      recipeId: job.recipeId,
      dropOffById: job.arranged?.dropOffBy ?? null,
      pickupById: job.arranged?.pickupBy ?? null,
      arrivesAt: BigInt(arrivesAt),
      leavesAt: BigInt(leavesAt),
      promisedAt: job.promise === null ? null : BigInt(job.promise.pickupAt),
      searchText: [job.customer.name, job.customer.phone, job.customer.email, job.vehicle.registration]
        .map(foldForSearch)
        .join(' '),
    };
  },
  references: (job) => [
    { field: 'recipeId', table: 'recipe', id: job.recipeId },
    ...(['dropOffBy', 'pickupBy'] as const).flatMap((field): Reference[] => {
      const id = job.arranged?.[field];
      return id ? [{ field: `arranged.${field}`, table: 'technician', id }] : [];
    }),
  ],
  referencedBy: [
    { by: 'floorEvent', table: 'floorEvent', where: (id) => ({ jobId: id }) },
    { by: 'reading', table: 'reading', where: (id) => ({ jobId: id }) },
    { by: 'plan', table: 'plannedJob', where: (id) => ({ jobId: id }) },
    { by: 'plan', table: 'plannedOperation', where: (id) => ({ jobId: id }) },
    { by: 'plan', table: 'plannedStay', where: (id) => ({ jobId: id }) },
    { by: 'occupancy', table: 'occupancy', where: (id) => ({ jobId: id }) },
  ],
};

export const deskExceptionKind: DocumentKind<DeskException> = {
  table: 'deskException',
  written: () => ({ what: 'aside' }),
  model: DeskException,
  columns: ({ jobId }) => ({ jobId }),
  references: ({ jobId }) => (jobId === null ? [] : [{ field: 'jobId', table: 'job', id: jobId }]),
  referencedBy: [],
};
