import { z } from 'zod';
import { CoatingId, TechnicianId } from './ids.ts';
import { DayException, LocalDate, WeeklyHours } from './time.ts';

export const Skill = z.enum([
  'intake',
  'wash',
  'decontamination',
  'wheels',
  'interior',
  'masking',
  'polishing',
  'coating',
  'filmLaying',
  'inspection',
  'driving',
]);
export type Skill = z.infer<typeof Skill>;

export const SkillLevel = z.int().min(1).max(3);

export const Certificate = z.object({ coatingId: CoatingId, expiresOn: LocalDate });

export const Technician = z.object({
  id: TechnicianId,
  name: z.string().min(1).max(80),
  lead: z.boolean(),
  skills: z.array(z.object({ skill: Skill, level: SkillLevel })),
  certificates: z.array(Certificate),
  /** Speed against the shop's norm, in percent: 100 is the norm, 80 needs a quarter longer. */
  pacePercent: z.int().min(30).max(200),
  shifts: WeeklyHours,
  exceptions: z.array(DayException),
});
export type Technician = z.infer<typeof Technician>;
