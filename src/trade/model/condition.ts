import { z } from 'zod';
import { Instant } from './time.ts';
import { PaintHardness, PanelName } from './vehicle.ts';

/** 0 none, 1 light wash marring, 2 swirls, 3 deep swirls and scratches, 4 neglected. */
export const DefectGrade = z.int().min(0).max(4);
/** 0 clean, 1 dusty, 2 dirty, 3 neglected. */
export const SoilGrade = z.int().min(0).max(3);

/** A film-thickness reading. Total build is not clear coat; plastic cannot be measured. */
export const FilmReading = z.object({
  panel: PanelName,
  micrometres: z.number().positive().max(2000),
  gaugeErrorMicrometres: z.number().nonnegative(),
  at: Instant,
});
export type FilmReading = z.infer<typeof FilmReading>;

/** What the desk is told or sees at booking, before the car is clean. */
export const ConditionAtBooking = z.object({
  soil: SoilGrade,
  defects: DefectGrade,
  brakeDust: SoilGrade,
  minerals: z.boolean(),
  tar: z.boolean(),
});
export type ConditionAtBooking = z.infer<typeof ConditionAtBooking>;

/** What the inspection on clean paint found. */
export const Inspection = z.object({
  at: Instant,
  panels: z.array(z.object({ panel: PanelName, defects: DefectGrade, note: z.string().max(300).optional() })),
  film: z.array(FilmReading),
  paintHardness: PaintHardness.nullable(),
});
export type Inspection = z.infer<typeof Inspection>;
