import { z } from 'zod';
import { EquipmentKind } from './equipment.ts';
import { CoatingId, RecipeId } from './ids.ts';
import { WORK_KINDS } from './lists.ts';
import { Skill, SkillLevel } from './people.ts';
import { AirLabel, Capability } from './shop.ts';
import { Minutes } from './time.ts';

/** Kinds of work the trade knows; each has its rule of work content and its cautions. */
export const WorkKind = z.enum(WORK_KINDS);
export type WorkKind = z.infer<typeof WorkKind>;

export const AddOn = z.enum(['film', 'interior', 'glass', 'wheels', 'trim']);
export type AddOn = z.infer<typeof AddOn>;

export const Attendance = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('handsOn') }),
  z.object({ kind: z.literal('watched'), sharePercent: z.int().min(1).max(100) }),
  z.object({ kind: z.literal('unattended') }),
]);

/** A duration the recipe states, or one that a data sheet or the work content gives. */
export const StepDuration = z.discriminatedUnion('by', [
  z.object({ by: z.literal('minutes'), minutes: Minutes }),
  z.object({ by: z.literal('workContent') }),
  z.object({
    by: z.literal('dataSheet'),
    item: z.enum(['recoatMin', 'recoatMax', 'dustSafe', 'moveSafe', 'waterSafe', 'releaseSafe', 'fullCure']),
  }),
]);
export type StepDuration = z.infer<typeof StepDuration>;

const StepKey = z.string().regex(/^[a-z][A-Za-z0-9]*$/, 'a camelCase key');

/** When a step belongs to a job at all. */
export const StepPresence = z.discriminatedUnion('when', [
  z.object({ when: z.literal('always') }),
  z.object({ when: z.literal('addOn'), addOn: AddOn }),
  z.object({ when: z.literal('defects'), atLeast: z.int().min(1).max(4) }),
  z.object({ when: z.literal('minerals') }),
  z.object({ when: z.literal('remedy') }),
  z.object({ when: z.literal('branch') }),
]);

export const HoldPoint = z.enum(['cleanPaint', 'decontaminated', 'wholeCarFinished', 'final']);

export const RecipeStep = z.object({
  key: StepKey,
  kind: WorkKind,
  label: z.string().min(1).max(80),
  /** Key of the stay it is done in. */
  stay: StepKey,
  presence: StepPresence,
  attendance: Attendance,
  crew: z.object({
    size: z.int().min(0).max(4),
    skill: Skill.nullable(),
    level: SkillLevel,
    /** Needs an unexpired certificate for the coating laid. */
    certified: z.boolean(),
    leadPreferred: z.boolean(),
  }),
  equipment: z.array(z.object({ kind: EquipmentKind, count: z.int().min(1) })),
  duration: StepDuration,
  /** Which coating it lays or whose data sheet it follows. */
  coatingId: CoatingId.nullable(),
  pausable: z.boolean(),
  leastFirstPieceMinutes: Minutes.optional(),
  longestPauseMinutes: Minutes.optional(),
  /** What its work does to the air, from its start to its end. */
  air: z.array(AirLabel),
  holdPoint: HoldPoint.nullable(),
});
export type RecipeStep = z.infer<typeof RecipeStep>;

const StepEdge = z.object({ step: StepKey, edge: z.enum(['start', 'end']) });

export const RecipeLag = z.object({
  from: StepEdge,
  to: StepEdge,
  min: StepDuration,
  max: StepDuration.nullable(),
  /** Steps with presence `remedy`, in order, that make good a lapsed maximum. */
  remedy: z.array(StepKey),
  /** Same people on both; `held`: not released in between. */
  sameCrew: z.enum(['no', 'same', 'held']),
});
export type RecipeLag = z.infer<typeof RecipeLag>;

/**
 * The order of a recipe's work. A step starts after every step before it in the list has ended, unless a lag between
 * those two (of any edges) says otherwise: nothing floats, and a list without lags is a chain. Two neighbours that may
 * overlap are given a lag between their starts; the step after them still waits for both. The alternatives of a
 * branch stand where the first of their steps stands, each a chain of its own. Steps with presence `remedy` stand
 * between the two ends of the lag that names them, and after them the lag's maximum runs anew. A lag or span that names a
 * step which is not present for a car is left out for it.
 */
export const Recipe = z.object({
  id: RecipeId,
  name: z.string().min(1).max(80),
  description: z.string().max(500),
  /** What makes `cleanPaint` revisions: correction in the recipe's scope or not. */
  corrects: z.boolean(),
  /** Places the car goes through, in order; a move is allowed between one stay and the next. */
  stays: z.array(z.object({ key: StepKey, needs: z.array(Capability).min(1), optional: z.boolean() })).min(1),
  steps: z.array(RecipeStep).min(1),
  lags: z.array(RecipeLag),
  branches: z.array(z.object({ name: z.string().min(1), alternatives: z.array(z.array(StepKey)).min(2) })),
  /** Air states that last over several steps: open coating from wipe to dust-safe, vapour until flashed off. */
  airSpans: z.array(z.object({ label: AirLabel, from: StepEdge, to: StepEdge })),
  /** No move from one edge to another: final wipe to move-safe. */
  stills: z.array(z.object({ from: StepEdge, to: StepEdge })),
  basePriceMinor: z.int().nonnegative(),
  aftercare: z.array(z.string().max(200)),
});
export type Recipe = z.infer<typeof Recipe>;
