import { z } from 'zod';
import { JobId, OperationKey, RecipeId, TechnicianId } from '../../../trade/model/ids.ts';
import { WorkKind } from '../../../trade/model/recipe.ts';
import { Instant } from '../../../trade/model/time.ts';
import { onTheWire } from '../../wire/on-the-wire.ts';
import { listOf } from '../../wire/reply.ts';

const percent = z.number();

const Blame = z.object({
  operations: listOf(
    z.object({
      jobId: JobId,
      car: z.string(),
      operation: OperationKey,
      label: z.string(),
      sharePercent: percent,
      overrunMinutes: z.int(),
    }),
  ),
  resources: listOf(
    z.object({
      kind: z.enum(['place', 'person', 'equipment', 'air', 'standstill', 'tandem', 'hours']),
      name: z.string(),
      sharePercent: percent,
    }),
  ),
});

export const PromiseLine = z.object({
  jobId: JobId,
  car: z.string(),
  customer: z.string(),
  promisedPickupAt: Instant,
  givenPercent: percent,
  plannedReadyAt: Instant,
  medianReadyAt: Instant,
  surelyReadyAt: Instant,
  slackMinutes: z.int(),
  probabilityPercent: percent,
  atRisk: z.boolean(),
  blame: Blame,
});

const Remedy = z.object({
  key: z.string(),
  kind: z.enum(['anotherPerson', 'overtime', 'lamps', 'laterPickup']),
  text: z.string(),
  changes: listOf(z.string()),
  pickupAt: Instant,
  percentWith: percent,
  overtimeMinutes: z.int(),
  costs: listOf(
    z.object({
      jobId: JobId,
      car: z.string(),
      customer: z.string(),
      promisedPickupAt: Instant,
      percentBefore: percent,
      percentAfter: percent,
      minutesLater: z.int(),
    }),
  ),
});

export const RemediesReply = onTheWire(
  z.object({
    jobId: JobId,
    car: z.string(),
    customer: z.string(),
    promisedPickupAt: Instant,
    probabilityPercent: percent,
    planVersion: z.int(),
    blame: Blame,
    remedies: listOf(Remedy),
  }),
);

const Chance = z.object({
  statedPercent: percent,
  learnedPercent: percent,
  happened: z.int(),
  cars: z.int(),
});

const bias = {
  promises: z.int(),
  meanMinutes: z.int(),
  standardErrorMinutes: z.int().nullable(),
  clear: z.boolean(),
};

export const CalibrationReply = onTheWire(
  z.object({
    promises: z.int(),
    coverage: listOf(
      z.object({
        givenPercent: percent,
        promises: z.int(),
        kept: z.int(),
        keptPercent: percent,
        fromPercent: percent,
        toPercent: percent,
        verdict: z.enum(['asSaid', 'tooSure', 'tooCareful']),
      }),
    ),
    brierScore: z.number().nullable(),
    pinballLossMinutes: z.number().nullable(),
    byRecipe: listOf(z.object({ recipeId: RecipeId, name: z.string(), ...bias })),
    byPerson: listOf(z.object({ technicianId: TechnicianId, name: z.string(), ...bias })),
    spreadFactor: z.number(),
    finalInspectionFails: Chance,
    scopeChanges: Chance,
    durations: listOf(z.object({ kind: WorkKind, records: z.int(), medianPercent: z.int(), ninetyPercent: z.int() })),
    setAside: listOf(
      z.object({
        jobId: JobId,
        car: z.string(),
        operation: OperationKey,
        kind: WorkKind,
        people: listOf(TechnicianId),
        startedAt: Instant,
        plannedMinutes: z.int(),
        workedMinutes: z.int(),
        reason: z.enum(['tooLong', 'tooShort', 'unusable']),
      }),
    ),
  }),
);

export const ApplyBody = z.object({
  /** Version of the plan the remedy was looked for in. */
  planVersion: z.int().nonnegative(),
  /** Whoever decides it; noted on the car. */
  by: z.string().trim().min(1).max(120),
});
