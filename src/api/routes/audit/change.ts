import { z } from 'zod';
import { Instant } from '../../../trade/model/time.ts';

/** An entry of the trail of changes. */
export const Change = z.object({
  id: z.string(),
  at: Instant,
  /** `account:…`, `token:…`, or `server` for what nobody asked for. */
  who: z.string(),
  requestId: z.string(),
  kind: z.string(),
  subject: z.string(),
  /** Documents as JSON; null where there was or is none. */
  before: z.string().nullable(),
  after: z.string().nullable(),
});
