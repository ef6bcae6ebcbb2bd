import { z } from 'zod';
import { AirZoneId, JobId } from './ids.ts';
import { Instant } from './time.ts';

/** Air and panel conditions: measured, forecast, or a monthly normal. Readings bind for 60 minutes. */
export const ConditionsReading = z.object({
  airZoneId: AirZoneId,
  at: Instant,
  source: z.enum(['measured', 'forecast', 'normal']),
  airTempC: z.number().min(-40).max(60),
  relativeHumidityPercent: z.number().min(0).max(100),
  panelTempC: z.number().min(-40).max(90).nullable(),
  jobId: JobId.nullable(),
});
export type ConditionsReading = z.infer<typeof ConditionsReading>;
