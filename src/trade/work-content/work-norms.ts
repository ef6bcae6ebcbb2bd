import { z } from 'zod';
import { WorkKind } from '../model/recipe.ts';
import { PaintHardness, PanelName, VehicleClass } from '../model/vehicle.ts';

/** What the minutes of a kind of work are counted by. `visit` counts once a car. */
export const WorkUnit = z.enum([
  'visit',
  'squareMetre',
  'compoundedSquareMetre',
  'finishedSquareMetre',
  'filmSquareMetre',
  'glassSquareMetre',
  'wheel',
  'lampArea',
  'seat',
]);
export type WorkUnit = z.infer<typeof WorkUnit>;

/** What makes a unit slower or quicker than the norm. */
export const WorkModifier = z.enum(['none', 'soil', 'brakeDust', 'tar', 'hardness']);
export type WorkModifier = z.infer<typeof WorkModifier>;

/** The norm for one kind of work, for one person at the shop's pace. */
export const KindNorm = z.object({
  setUpMinutes: z.number().nonnegative(),
  unit: WorkUnit,
  minutesPerUnit: z.number().nonnegative(),
  modifier: WorkModifier,
  /** Whether a second pair of hands shortens it. */
  divisible: z.boolean(),
  /** Whether it is work at a person's pace; drying and curing are not. */
  paced: z.boolean(),
  /** Optimistic and pessimistic durations, in percent of the likely one. */
  optimisticPercent: z.number().positive().max(100),
  pessimisticPercent: z.number().min(100).max(500),
});
export type KindNorm = z.infer<typeof KindNorm>;

const gradePercents = z.array(z.number().positive()).length(4);

/** Everything the work content is computed from, as data a shop edits. */
export const WorkNorms = z.object({
  kinds: z.record(WorkKind, KindNorm),
  panelAreaM2: z.record(VehicleClass, z.record(PanelName, z.number().positive())),
  glassAreaM2: z.record(VehicleClass, z.number().positive()),
  seats: z.record(VehicleClass, z.int().positive()),
  /** Areas a lamp is set up for, one after another. */
  lampAreas: z.record(VehicleClass, z.int().positive()),
  /** Panels a film add-on covers. */
  filmPanels: z.array(PanelName),
  wheels: z.int().positive(),
  /** Percent of the norm by grade of soil, brake dust: index 0 clean to 3 neglected. */
  soilPercent: gradePercents,
  brakeDustPercent: gradePercents,
  tarPercent: z.number().min(100),
  hardnessPercent: z.record(PaintHardness, z.number().positive()),
  /** Hardness assumed until the test spot tells it. */
  hardnessPrior: z.record(VehicleClass, PaintHardness),
  /** Compounding passes by hardness, for defect grades 0 to 4. */
  compoundPasses: z.record(PaintHardness, z.array(z.int().nonnegative()).length(5)),
  /** What a crew of 1, 2, 3, 4 gets done, in percent of one person. */
  crewOutputPercent: z.array(z.number().min(100)).length(4),
});
export type WorkNorms = z.infer<typeof WorkNorms>;
