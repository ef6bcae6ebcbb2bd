import type { Job } from '../model/job.ts';
import { PANEL_NAMES } from '../model/lists.ts';
import type { AddOn } from '../model/recipe.ts';
import type { Shop } from '../model/shop.ts';
import type { PaintHardness, PanelName, VehicleClass } from '../model/vehicle.ts';
import { commonNorms } from './common-norms.ts';
import type { WorkNorms } from './work-norms.ts';

/** What is known of a car, and who is to work on it, when minutes are computed. */
export interface WorkFacts {
  readonly vehicleClass: VehicleClass;
  /** Defect grade 0 to 4 of each panel: found at the inspection, or the desk's one grade for all. */
  readonly defects: Readonly<Record<PanelName, number>>;
  readonly paintHardness: PaintHardness;
  /** All machine passes the customer approved, the finishing one included; null: what the defects ask for. */
  readonly correctionPasses: number | null;
  /** 0 clean to 3 neglected. */
  readonly soil: number;
  readonly brakeDust: number;
  readonly tar: boolean;
  readonly addOns: readonly AddOn[];
  /** Lamp minutes an area by the coating's data sheet; null: the norm. */
  readonly lampMinutesPerArea: number | null;
  /** Time the customer has to answer after the inspection. */
  readonly answerMinutes: number;
  readonly crewSize: number;
  /** 100 is the shop's norm; 80 needs a quarter longer. The slowest of a crew sets it. */
  readonly pacePercent: number;
}

/** Reads the facts off a job. An inspection on clean paint outranks what the desk was told. */
export function workFacts(
  job: Pick<Job, 'vehicle' | 'condition' | 'inspection' | 'scope' | 'addOns'>,
  shop: Pick<Shop, 'inspectionAnswerMinutes'>,
  crew: { readonly size: number; readonly pacePercent: number } = { size: 1, pacePercent: 100 },
  norms: WorkNorms = commonNorms,
): WorkFacts {
  const defects = {} as Record<PanelName, number>;
  for (const panel of PANEL_NAMES) defects[panel] = job.condition.defects;
  for (const found of job.inspection?.panels ?? []) defects[found.panel] = found.defects;
  for (const panel of job.scope?.sparedPanels ?? []) defects[panel] = 0;
  return {
    vehicleClass: job.vehicle.class,
    defects,
    paintHardness: job.inspection?.paintHardness ?? job.vehicle.paintHardness ?? norms.hardnessPrior[job.vehicle.class],
    correctionPasses: job.scope?.correctionPasses ?? null,
    soil: job.condition.soil,
    brakeDust: job.condition.brakeDust,
    tar: job.condition.tar,
    addOns: job.addOns,
    lampMinutesPerArea: null,
    answerMinutes: shop.inspectionAnswerMinutes,
    crewSize: crew.size,
    pacePercent: crew.pacePercent,
  };
}
