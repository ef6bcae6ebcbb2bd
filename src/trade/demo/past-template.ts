import { z } from 'zod';
import { RecipeId, TechnicianId } from '../model/ids.ts';
import { WorkKind } from '../model/recipe.ts';

const Percent = z.int().min(1).max(400);

/** What the demo's past was like: who came, and how the work really went, beside what its norms say. */
export const PastTemplate = z.object({
  seed: z.int(),
  /** Weeks of five working days. */
  weeks: z.int().min(1).max(12),
  /** Cars of each recipe in a week, on average. */
  carsAWeek: z.array(z.object({ recipeId: RecipeId, cars: z.number().min(0).max(20) })),
  /** Minutes that work typically took for each 100 its norm says, where these were others; null: under any condition. */
  reallyPercent: z.array(z.object({ kind: WorkKind, condition: z.string().nullable(), percent: Percent })),
  /** The same of people, at all their work. */
  peoplePercent: z.array(z.object({ technicianId: TechnicianId, percent: Percent })),
  /** By how much good days differ from bad ones, as a standard deviation. */
  dayPercent: z.number().min(0).max(30),
  /** Of all corrections, how many grew at the inspection. */
  scopeGrowsPercent: z.number().min(0).max(100),
  /** Which final inspections failed, counted from 0 in the order in which the cars came, and how long the rework was meant to take. */
  failedInspections: z.array(z.object({ inspection: z.int().min(0), reworkMinutes: z.int().min(5).max(600) })),
  /** One car each that was brought so much later than told. */
  lateDropOffMinutes: z.array(z.int().min(1).max(600)),
  /** One operation each, of the kind named, whose end nobody told until so much later. */
  forgottenFinishes: z.array(z.object({ kind: WorkKind, minutes: z.int().min(30).max(600) })),
});
export type PastTemplate = z.infer<typeof PastTemplate>;
