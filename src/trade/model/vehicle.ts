import { z } from 'zod';
import { PANEL_NAMES } from './lists.ts';
import { LocalDate } from './time.ts';

export const VehicleClass = z.enum(['city', 'compact', 'saloon', 'estate', 'suv', 'van', 'coupe']);
export type VehicleClass = z.infer<typeof VehicleClass>;

export const PanelName = z.enum(PANEL_NAMES);
export type PanelName = z.infer<typeof PanelName>;

export const PaintHardness = z.enum(['soft', 'medium', 'hard']);
export type PaintHardness = z.infer<typeof PaintHardness>;

export const Vehicle = z.object({
  class: VehicleClass,
  description: z.string().max(120),
  registration: z.string().max(16),
  colour: z.string().max(40),
  lengthMm: z.int().positive(),
  heightMm: z.int().positive(),
  paintHardness: PaintHardness.nullable(),
  /** Panels repainted lately, with the day; coated only on the painter's word. */
  repaints: z.array(z.object({ panel: PanelName, paintedOn: LocalDate, painterCleared: z.boolean() })),
});
export type Vehicle = z.infer<typeof Vehicle>;
