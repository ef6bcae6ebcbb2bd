import { z } from 'zod';
import { JobId, OperationKey, PlaceId, TechnicianId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';

/** "What if it went here": a place, an hour or a person for one operation of a car. What is null is left to the plan. */
export const WhatIf = z
  .object({
    jobId: JobId,
    /** Null: the first operation that has not begun. */
    operation: OperationKey.nullable().default(null),
    /** For the whole stay the operation is done in. */
    placeId: PlaceId.nullable().default(null),
    /** It starts then, to the minute. */
    startAt: Instant.nullable().default(null),
    /** It starts no earlier than then. */
    notBefore: Instant.nullable().default(null),
    personId: TechnicianId.nullable().default(null),
  })
  .refine(
    ({ placeId, startAt, notBefore, personId }) =>
      placeId !== null || startAt !== null || notBefore !== null || personId !== null,
    { error: 'name a place, an hour or a person', path: ['placeId'] },
  );
export type WhatIf = z.infer<typeof WhatIf>;
