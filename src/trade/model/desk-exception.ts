import { z } from 'zod';
import { DeskExceptionId, JobId } from './ids.ts';
import { Instant } from './time.ts';

/**
 * Something a person at the desk has to know and acknowledge: a promise that the plan breaks, a freeze that had to be
 * released, a fact of the floor that broke a rule, a coating that conditions no longer allow.
 */
export const DeskException = z.object({
  /** Made from its cause, so that the same cause is raised once. */
  id: DeskExceptionId,
  kind: z.enum([
    'promiseBroken',
    'promiseAtRisk',
    'freezeReleased',
    'factAgainstRule',
    'conditionsAgainst',
    'planRejected',
    'carMissing',
    'messageNotSent',
  ]),
  jobId: JobId.nullable(),
  text: z.string().min(1).max(1000),
  raisedAt: Instant,
  acknowledgedAt: Instant.nullable(),
  acknowledgedBy: z.string().max(120).nullable(),
  /** When a risk passed by itself; absent while it lasts, and on exceptions that do not pass. */
  passedAt: Instant.optional(),
});
export type DeskException = z.infer<typeof DeskException>;
