import type { output } from 'zod';
import type { ShopAccount as Admitted } from '../shop/access/accounts.ts';
import type { me } from '../shop/access/me.ts';
import type { BookingRequest as Request } from '../shop/booking/booking-request.ts';
import type { QuoteChoice as Choice, Quote } from '../shop/booking/quote.ts';
import type { OperationBreakdown as Breakdown } from '../shop/breakdown/job-breakdown.ts';
import type { LinkView as CustomersLink } from '../shop/customer/customer-link.ts';
import type { QueueItem as Item, Queue } from '../shop/floor/queue.ts';
import type { TimelineStay as Stay, Timeline } from '../shop/floor/timeline.ts';
import type { RevisedScope as Revised } from '../shop/inspection/record-inspection.ts';
import type { JobView as View } from '../shop/jobs/job-view.ts';
import type { JobMessages, MessageLine as Line } from '../shop/messages/list-messages.ts';
import type { WhatIfProgress as Planned, Range as RangeOfMonths, WhatIfs } from '../shop/owner-what-ifs/what-if.ts';
import type {
  Remedy as ARemedy,
  PromiseCalibration as Calibration,
  PromiseOutlook as Outlook,
  Remedies,
} from '../shop/promises/promise-views.ts';
import type { Estimates, EstimateLine as LineOfEstimates } from '../shop/utilisation/estimates.ts';
import type { Revenue } from '../shop/utilisation/revenue.ts';
import type { WeekUtilisation } from '../shop/utilisation/week.ts';
import type { WeekTotal as Total } from '../shop/utilisation/weeks.ts';
import type { Applied } from '../shop/what-if/apply-wish.ts';
import type { RainAnswer } from '../shop/what-if/rain.ts';
import type { WhatIfAnswer } from '../shop/what-if/what-if.ts';
import type { Withdrawn } from '../shop/what-if/withdraw-wish.ts';
import type { Inspection as Inspected } from '../trade/model/condition.ts';
import type { DeskException as Exception } from '../trade/model/desk-exception.ts';
import type { Job as AJob, FloorFact as Fact } from '../trade/model/job.ts';
import type { Technician as Person } from '../trade/model/people.ts';
import type { Photo as APhoto } from '../trade/model/photo.ts';
import type { PlannedOperation as Operation, Plan as WholePlan } from '../trade/model/plan.ts';
import type { Recipe as ARecipe } from '../trade/model/recipe.ts';
import type { Place as APlace, Shop as AShop, AirZone as Zone } from '../trade/model/shop.ts';
import type { Instant } from '../trade/model/time.ts';
import type { PanelName as APanel } from '../trade/model/vehicle.ts';
import type { TabletReply as ATablet, TokenReply as AToken, WaysIn as Ways } from './routes/access/schemas.ts';

/** A reply as a client reads it: every instant is ISO 8601 text, every identifier plain text. */
export type OnWire<T> = T extends Instant
  ? string
  : T extends string
    ? keyof T extends keyof string
      ? T
      : string
    : T extends readonly (infer Each)[]
      ? OnWire<Each>[]
      : T extends object
        ? { [Key in keyof T]: OnWire<T[Key]> }
        : T;

export type Shop = OnWire<AShop>;
export type AirZone = OnWire<Zone>;
export type Place = OnWire<APlace>;
export type Technician = OnWire<Person>;
export type Recipe = OnWire<ARecipe>;
export type TimelineReply = OnWire<Timeline>;
export type TimelineStay = OnWire<Stay>;
export type PlannedOperation = OnWire<Operation>;
export type QueueReply = OnWire<Queue>;
export type QueueItem = OnWire<Item>;
export type PromiseOutlook = OnWire<Outlook>;
/** GET /promises/calibration */
export type PromiseCalibrationReply = OnWire<Calibration>;
/** GET /promises/{jobId}/remedies */
export type RemediesReply = OnWire<Remedies>;
/** POST /promises/{jobId}/remedies/{key}/apply, body { planVersion, by }, replies with the job as it now stands. */
export type Remedy = OnWire<ARemedy>;
export type DeskException = OnWire<Exception>;
export type JobView = OnWire<View>;
export type QuoteReply = OnWire<Quote>;
export type QuoteChoice = OnWire<Choice>;
export type BookingRequest = OnWire<Request>;
export type WeekReply = OnWire<WeekUtilisation>;
export type WeekTotal = OnWire<Total>;
export type RevenueReply = OnWire<Revenue>;
export type EstimatesReply = OnWire<Estimates>;
export type EstimateLine = OnWire<LineOfEstimates>;
export type WhatIfsReply = OnWire<WhatIfs>;
export type WhatIfProgress = OnWire<Planned>;
export type Range = RangeOfMonths;
export type FloorFact = OnWire<Fact>;
export type Plan = OnWire<WholePlan>;
export type Job = OnWire<AJob>;
export type JobLine = Pick<JobView, 'job' | 'planned'>;
export type Inspection = OnWire<Inspected>;
export type RevisedScope = OnWire<Revised>;
export type OperationBreakdown = OnWire<Breakdown>;
export type WhatIfReply = OnWire<WhatIfAnswer>;
export type WishReply = OnWire<Applied>;
export type WithdrawnReply = OnWire<Withdrawn>;
export type RainReply = OnWire<RainAnswer>;
export type Wish = NonNullable<Job['wishes']>[number];
export type Photo = OnWire<APhoto>;
export type MessagesReply = OnWire<JobMessages>;
export type MessageLine = OnWire<Line>;
export type MessageSentReply = Omit<MessageLine, 'subject' | 'text'>;
export type CustomerLink = OnWire<CustomersLink>;
export type WaysIn = OnWire<output<typeof Ways>>;
export type Me = OnWire<Awaited<ReturnType<typeof me>>>;
export type ShopAccount = OnWire<Admitted>;
export type Tablet = OnWire<output<typeof ATablet>>;
export type ApiToken = OnWire<output<typeof AToken>>;
export type NewApiToken = ApiToken & { secret: string };
export type PanelName = APanel;
export interface PageOf<T> {
  items: T[];
  nextCursor: string | null;
}
/** RFC 9457 problem details. */
export interface Problem {
  type: string;
  title: string;
  status: number;
  detail?: string;
  errors?: { field: string; message: string; rule?: string }[];
  /** The nearest slot, where one was looked for and found. */
  nearest?: { dropOffAt: string; readyAt: string; pickupAt: string; confidencePercent: number } | null;
}
