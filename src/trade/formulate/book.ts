import type { Coating } from '../model/coating.ts';
import type { Equipment } from '../model/equipment.ts';
import type { JobId } from '../model/ids.ts';
import type { FloorEvent, Job } from '../model/job.ts';
import type { Technician } from '../model/people.ts';
import type { Plan } from '../model/plan.ts';
import type { ConditionsReading } from '../model/readings.ts';
import type { Recipe, WorkKind } from '../model/recipe.ts';
import type { AirZone, Place, Shop } from '../model/shop.ts';
import type { Instant } from '../model/time.ts';
import type { LearnedFromFloor } from '../work-content/learned-from-floor.ts';
import type { WorkNorms } from '../work-content/work-norms.ts';

/** Everything a shop is, apart from its jobs. */
export interface ShopData {
  readonly shop: Shop;
  readonly airZones: readonly AirZone[];
  readonly places: readonly Place[];
  readonly technicians: readonly Technician[];
  readonly equipment: readonly Equipment[];
  readonly coatings: readonly Coating[];
  readonly recipes: readonly Recipe[];
}

/** Everything a plan is made from: the shop as it is, the open jobs, and what has happened on the floor. */
export interface Book extends ShopData {
  /** Jobs in state `held`, `booked` or `inShop`; others are passed by. */
  readonly jobs: readonly Job[];
  /** Floor events of these jobs, in any order. */
  readonly events: readonly FloorEvent[];
  readonly readings: readonly ConditionsReading[];
  readonly previousPlan: Plan | null;
  readonly now: Instant;
  /** Days from now that are planned; stretched to `slackDays` after the last hour told to a customer. */
  readonly horizonDays: number;
  /** Absent: a fortnight. */
  readonly slackDays?: number;
  /** The shop's norms of work; absent: common practice. */
  readonly norms?: WorkNorms;
  /** What the floor's records say of the norms, in percent of the computed minutes; absent: 100. */
  readonly estimates?: Readonly<Partial<Record<WorkKind, number>>>;
  /** How sure durations are; absent: as the trade's norms say. */
  readonly learned?: LearnedFromFloor;
}

/** What a person, or a planner that found no plan, has given up. */
export interface Releases {
  /** Jobs whose drop-off hour need not be kept to the minute: the car comes no earlier than told. */
  readonly dropOffsOf?: ReadonlySet<JobId>;
  /**
   * How long after the hour told, or after now where that has passed, those cars come at the latest, in minutes of opening hours; absent:
   * any time.
   */
  readonly dropOffsWithinMinutes?: number;
  /** Jobs in which a window that is running on the floor may lapse though the recipe has no remedy for it. */
  readonly windowsOf?: ReadonlySet<JobId>;
  /** Jobs whose car may stand on in the place where it is, though that closes. */
  readonly closuresOf?: ReadonlySet<JobId>;
  /** Jobs whose places, hours and people decided at the desk need not be kept. */
  readonly wishesOf?: ReadonlySet<JobId>;
  /** Jobs that are not planned at all. Where their cars stand stays taken, unless another is told to stand there too. */
  readonly aside?: ReadonlySet<JobId>;
  /**
   * Nothing given up but insisted on: a window that runs on the floor and that people are held for is kept, though the recipe could
   * make it good; a remover that dries on the paint is no choice of the planner's. Absent: it may lapse, and its remedy comes in.
   */
  readonly keepsHeldWindows?: boolean;
}
