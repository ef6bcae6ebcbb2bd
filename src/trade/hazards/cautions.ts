import type { WorkKind } from '../model/recipe.ts';
import { type HazardName, hazards } from './hazard-texts.ts';

/** What can hurt someone at a piece of work, and what to do about it. */
export interface Caution {
  readonly hazard: HazardName;
  readonly text: string;
  readonly precautions: readonly string[];
  /** What outranks this text. */
  readonly defersTo: string;
}

/** Words under every caution: Panelday reminds, it does not instruct. */
export const DEFERS_TO =
  'The safety data sheet, local codes and licensed practice come first; where they differ, follow them.';

/** Most kinds of work share hazards; order is by how badly they can hurt. */
const hazardsOf: Record<WorkKind, readonly HazardName[]> = {
  intake: ['movingVehicle'],
  photographs: ['movingVehicle'],
  wheelsOff: ['raisedVehicle', 'lifting'],
  wheels: ['acidMeetsIronRemover', 'fluorideAcid', 'chemicalSplash', 'slips'],
  mineralRemover: ['acidMeetsIronRemover', 'fluorideAcid', 'chemicalSplash', 'slips'],
  ironTarRemover: ['acidMeetsIronRemover', 'solventVapour', 'chemicalSplash', 'slips'],
  foamWash: ['pressureJet', 'chemicalSplash', 'slips'],
  contactWash: ['pressureJet', 'slips'],
  clay: ['slips'],
  blowDry: ['compressedAir', 'noise', 'slips'],
  dryOut: ['slips'],
  cleanPaintInspection: ['brightLamps'],
  customerAnswer: [],
  mask: ['rotatingMachine'],
  testSpot: ['rotatingMachine', 'polishingDust', 'noise'],
  compound: ['rotatingMachine', 'cordsOnWetFloor', 'polishingDust', 'noise'],
  filmCheck: [],
  finishPolish: ['rotatingMachine', 'cordsOnWetFloor', 'polishingDust', 'noise'],
  dustRemoval: ['compressedAir', 'polishingDust', 'noise'],
  stripWash: ['pressureJet', 'chemicalSplash', 'slips'],
  filmLaying: ['blades', 'hotAir', 'slips'],
  interior: ['chemicalSplash', 'solventVapour', 'electricalCabin'],
  panelWipe: ['ignitableSolvent', 'solventVapour'],
  solventFlash: ['ignitableSolvent', 'solventVapour'],
  coatLayer: ['ignitableSolvent', 'coatingVapour', 'brightLamps'],
  layerWait: ['coatingVapour'],
  abrade: ['polishingDust', 'rotatingMachine'],
  cure: ['coatingVapour'],
  lampCure: ['hotLamps', 'ignitableSolvent', 'coatingVapour'],
  glassCoat: ['ignitableSolvent', 'coatingVapour'],
  wheelCoat: ['ignitableSolvent', 'coatingVapour', 'lifting'],
  trimCoat: ['ignitableSolvent', 'coatingVapour'],
  wheelsOn: ['raisedVehicle', 'lifting'],
  unmask: [],
  finalInspection: ['brightLamps'],
  rework: ['rotatingMachine', 'cordsOnWetFloor', 'polishingDust', 'noise'],
  handover: ['movingVehicle'],
  maintenanceWash: ['pressureJet', 'chemicalSplash', 'slips'],
  afterCheck: ['brightLamps'],
  move: ['movingVehicle'],
};

/** Cautions to show on an operation of this kind. */
export function cautions(kind: WorkKind): Caution[] {
  return hazardsOf[kind].map((hazard) => ({ hazard, ...hazards[hazard], defersTo: DEFERS_TO }));
}
