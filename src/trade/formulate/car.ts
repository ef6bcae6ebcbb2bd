import type { Coating } from '../model/coating.ts';
import type { CoatingId } from '../model/ids.ts';
import type { Job } from '../model/job.ts';
import type { Recipe } from '../model/recipe.ts';
import type { Shop } from '../model/shop.ts';
import { machinePasses } from '../work-content/passes.ts';
import { type WorkFacts, workFacts } from '../work-content/work-facts.ts';
import type { WorkNorms } from '../work-content/work-norms.ts';
import type { FloorRecord } from './floor-record.ts';
import type { LeftOut, Notice } from './formulation.ts';
import type { Frame } from './frame.ts';
import type { Standing } from './standing.ts';

/** What of a car its work is read from; enough for cars that are long gone. */
export interface CarAtWork extends Pick<Car, 'job' | 'recipe' | 'record' | 'facts'> {
  readonly frame: Pick<Frame, 'norms'> & { readonly book: Pick<Frame['book'], 'estimates'> };
}

/** Thrown where a job cannot be planned; caught where jobs are gone through. */
export class CannotPlan extends Error {
  readonly field: string;
  constructor(field: string, reason: string) {
    super(reason);
    this.field = field;
  }
  leftOut(job: Job): LeftOut {
    return { jobId: job.id, field: this.field, reason: this.message };
  }
}

/** One job while it is being written into the problem. */
export class Car {
  readonly frame: Frame;
  readonly job: Job;
  readonly index: number;
  readonly recipe: Recipe;
  readonly record: FloorRecord;
  /** Where the car stands; undefined when it has not come, or nobody knows. */
  readonly standing: Standing | undefined;
  /** What the work content is computed from, with the scope that is to be planned. */
  readonly facts: WorkFacts;
  readonly notices: Notice[];

  /** @throws CannotPlan when the recipe is unknown. */
  constructor(
    frame: Frame,
    { job, record }: { readonly job: Job; readonly record: FloorRecord },
    index: number,
    standing: Standing | undefined,
    notices: Notice[],
  ) {
    const recipe = frame.recipeOf.get(job.recipeId);
    if (recipe === undefined) throw new CannotPlan('recipeId', `There is no recipe "${job.recipeId}".`);
    this.frame = frame;
    this.job = job;
    this.index = index;
    this.recipe = recipe;
    this.record = record;
    this.standing = standing;
    this.facts = plannedFacts(job, frame.book.shop, frame.norms);
    this.notices = notices;
  }

  /** @throws CannotPlan when the shop does not have it. */
  coating(id: CoatingId): Coating {
    const coating = this.frame.coatingOf.get(id);
    if (coating !== undefined) return coating;
    const text = `Recipe "${this.recipe.name}" asks for coating "${id}", which the shop does not have.`;
    throw new CannotPlan('recipeId', text);
  }
}

/** What the work content of a job is computed from, with the scope that is to be planned. */
export function plannedFacts(job: Job, shop: Pick<Shop, 'inspectionAnswerMinutes'>, norms: WorkNorms): WorkFacts {
  const crew = { size: 1, pacePercent: 100 };
  return { ...workFacts(job, shop, crew, norms), correctionPasses: plannedPasses(job, norms) };
}

/**
 * Machine passes to plan, the finishing one included; null: what the defects ask for. After the inspection a larger
 * scope runs only on the customer's word: while the answer is awaited, and when it was no, never more than the booking
 * asked for.
 */
function plannedPasses(job: Job, norms: WorkNorms): number | null {
  if (job.scope === null) return null;
  const { answer, correctionPasses } = job.scope;
  if (answer === 'approved' || answer === 'defaulted') return correctionPasses;
  const hardness = job.vehicle.paintHardness ?? norms.hardnessPrior[job.vehicle.class];
  const booked = machinePasses(job.condition.defects, hardness, norms);
  return Math.min(correctionPasses, booked.compound + booked.finish);
}
