import { z } from 'zod';
import { CoatingId } from './ids.ts';
import { Instant, LocalDate, Minutes } from './time.ts';

/** Times at one temperature and humidity. Between rows the trade's cure rule interpolates. */
export const DataSheetRow = z.object({
  tempC: z.number(),
  relativeHumidityPercent: z.number().min(0).max(100),
  recoatMinMinutes: Minutes,
  recoatMaxMinutes: Minutes,
  dustSafeMinutes: Minutes,
  moveSafeMinutes: Minutes,
  waterSafeMinutes: Minutes,
  releaseSafeMinutes: Minutes,
  fullCureMinutes: Minutes,
});
export type DataSheetRow = z.infer<typeof DataSheetRow>;

export const DataSheet = z.object({
  rows: z.array(DataSheetRow).min(1),
  cure: z.enum(['moisture', 'solvent']),
  minAirTempC: z.number(),
  maxAirTempC: z.number(),
  minRelativeHumidityPercent: z.number(),
  maxRelativeHumidityPercent: z.number(),
  /** Panel above dew point, in kelvins; ISO 8502-4 says 3. */
  minDewPointMarginK: z.number(),
  maxPanelTempC: z.number(),
  /** The floor's clock, seconds from laying to levelling. Never an engine lag. */
  flashSecondsFrom: z.int().positive(),
  flashSecondsTo: z.int().positive(),
  volumeSolidsPercent: z.number().min(1).max(100),
  filmMicrometresPerLayer: z.number().positive(),
  practicalLossPercent: z.number().min(0).max(90),
  bottleMillilitres: z.number().positive(),
  /** Life of a bottle once opened. */
  openBottleMinutes: Minutes,
  lampMinutesPerArea: Minutes,
});
export type DataSheet = z.infer<typeof DataSheet>;

export const Bottle = z.object({
  millilitresLeft: z.number().nonnegative(),
  expiresOn: LocalDate,
  openedAt: Instant.nullable(),
});
export type Bottle = z.infer<typeof Bottle>;

export const Coating = z.object({
  id: CoatingId,
  name: z.string().min(1).max(80),
  use: z.enum(['paint', 'glass', 'wheel', 'trim']),
  dataSheet: DataSheet,
  stock: z.array(Bottle),
  pricePerBottleMinor: z.int().nonnegative(),
});
export type Coating = z.infer<typeof Coating>;
