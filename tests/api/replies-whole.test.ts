import { describe, expectTypeOf, test } from 'vitest';
import type { z } from 'zod';
import type { OperationBreakdown as BreakdownSchema } from '../../src/api/routes/breakdown/routes.ts';
import type { DiaryReply } from '../../src/api/routes/diary/routes.ts';
import type { RecordedReply } from '../../src/api/routes/floor/routes.ts';
import type { RevisedScopeReply } from '../../src/api/routes/inspections/routes.ts';
import type { JobViewReply } from '../../src/api/routes/jobs/schemas.ts';
import type { MessagesReply } from '../../src/api/routes/messages/routes.ts';
import type { ReplannedReply } from '../../src/api/routes/plan/routes.ts';
import type { CalibrationReply, PromiseLine, RemediesReply } from '../../src/api/routes/promises/schemas.ts';
import type { QueueReply } from '../../src/api/routes/queue/routes.ts';
import type { QuoteReply } from '../../src/api/routes/quotes/routes.ts';
import type { EffectsReply } from '../../src/api/routes/setup/effects-reply.ts';
import type { TimelineReply } from '../../src/api/routes/timeline/routes.ts';
import type { WeekReply } from '../../src/api/routes/utilisation/schemas.ts';
import type { RainReply, WhatIfReply, WishReply, WithdrawnReply } from '../../src/api/routes/what-if/schemas.ts';
import type { Quote } from '../../src/shop/booking/quote.ts';
import type { OperationBreakdown } from '../../src/shop/breakdown/job-breakdown.ts';
import type { Queue } from '../../src/shop/floor/queue.ts';
import type { Recorded } from '../../src/shop/floor/record-fact.ts';
import type { Timeline } from '../../src/shop/floor/timeline.ts';
import type { DiaryImport } from '../../src/shop/import/import-diary.ts';
import type { RevisedScope } from '../../src/shop/inspection/record-inspection.ts';
import type { JobView } from '../../src/shop/jobs/job-view.ts';
import type { JobMessages } from '../../src/shop/messages/list-messages.ts';
import type { Replanned } from '../../src/shop/planning/replan.ts';
import type { PromiseCalibration, PromiseOutlook, Remedies } from '../../src/shop/promises/promise-views.ts';
import type { Effects } from '../../src/shop/setup/effects.ts';
import type { WeekUtilisation } from '../../src/shop/utilisation/week.ts';

import type { Applied } from '../../src/shop/what-if/apply-wish.ts';
import type { RainAnswer } from '../../src/shop/what-if/rain.ts';
import type { WhatIfAnswer } from '../../src/shop/what-if/what-if.ts';
import type { Withdrawn } from '../../src/shop/what-if/withdraw-wish.ts';

/** Every path into a value: `jobs`, `jobs.car`. */
type Paths<T> = T extends string | number | boolean | null | undefined
  ? never
  : T extends readonly (infer Each)[]
    ? Paths<Each>
    : { [Key in keyof T & string]: Key | `${Key}.${Paths<NonNullable<T[Key]>>}` }[keyof T & string];

/** What a use case tells and a reply's schema would leave out without a word. */
type Lost<Told, Schema extends z.ZodType> = Exclude<Paths<Told>, Paths<z.output<Schema>>>;

// The check is the type checker's: a field lost is a type other than never, and `tsc` refuses this file.
describe('a reply', () => {
  test('carries every field that its use case tells', () => {
    expectTypeOf<Lost<JobView, typeof JobViewReply>>().toBeNever();
    expectTypeOf<Lost<Quote, typeof QuoteReply>>().toBeNever();
    expectTypeOf<Lost<Replanned, typeof ReplannedReply>>().toBeNever();
    expectTypeOf<Lost<Timeline, typeof TimelineReply>>().toBeNever();
    expectTypeOf<Lost<Queue, typeof QueueReply>>().toBeNever();
    expectTypeOf<Lost<Recorded, typeof RecordedReply>>().toBeNever();
    expectTypeOf<Lost<RevisedScope, typeof RevisedScopeReply>>().toBeNever();
    expectTypeOf<Lost<PromiseOutlook, typeof PromiseLine>>().toBeNever();
    expectTypeOf<Lost<PromiseCalibration, typeof CalibrationReply>>().toBeNever();
    expectTypeOf<Lost<Remedies, typeof RemediesReply>>().toBeNever();
    expectTypeOf<Lost<WeekUtilisation, typeof WeekReply>>().toBeNever();
    expectTypeOf<Lost<DiaryImport, typeof DiaryReply>>().toBeNever();
    expectTypeOf<Lost<OperationBreakdown, typeof BreakdownSchema>>().toBeNever();
    expectTypeOf<Lost<Effects, typeof EffectsReply>>().toBeNever();
    expectTypeOf<Lost<WhatIfAnswer, typeof WhatIfReply>>().toBeNever();
    expectTypeOf<Lost<Applied, typeof WishReply>>().toBeNever();
    expectTypeOf<Lost<Withdrawn, typeof WithdrawnReply>>().toBeNever();
    expectTypeOf<Lost<RainAnswer, typeof RainReply>>().toBeNever();
    expectTypeOf<Lost<JobMessages, typeof MessagesReply>>().toBeNever();
  });

  test('that left a field out would be noticed', () => {
    expectTypeOf<Lost<Quote & { readonly surprise: string }, typeof QuoteReply>>().toEqualTypeOf<'surprise'>();
  });
});
