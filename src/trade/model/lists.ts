/*
 * Lists of words that the schemas of this folder are made of, by themselves: threads that plan read them, and hold no schema.
 */

/** States an operation or a wet surface puts on the air of its zone. */
export const AIR_LABELS = ['dust', 'mist', 'blowDrying', 'openCoating', 'vapour', 'ignition'] as const;

/** Panels of a car. */
export const PANEL_NAMES = [
  'bonnet',
  'roof',
  'bootLid',
  'frontBumper',
  'rearBumper',
  'leftFrontWing',
  'rightFrontWing',
  'leftFrontDoor',
  'rightFrontDoor',
  'leftRearDoor',
  'rightRearDoor',
  'leftRearWing',
  'rightRearWing',
  'leftSill',
  'rightSill',
] as const;

/** From Monday on: ISO 8601. */
export const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'] as const;

/** Kinds of work the trade knows; each has its rule of work content and its cautions. */
export const WORK_KINDS = [
  'intake',
  'photographs',
  'wheelsOff',
  'wheels',
  'mineralRemover',
  'ironTarRemover',
  'foamWash',
  'contactWash',
  'clay',
  'blowDry',
  'dryOut',
  'cleanPaintInspection',
  'customerAnswer',
  'mask',
  'testSpot',
  'compound',
  'filmCheck',
  'finishPolish',
  'dustRemoval',
  'stripWash',
  'filmLaying',
  'interior',
  'panelWipe',
  'solventFlash',
  'coatLayer',
  'layerWait',
  'abrade',
  'cure',
  'lampCure',
  'glassCoat',
  'wheelCoat',
  'trimCoat',
  'wheelsOn',
  'unmask',
  'finalInspection',
  'rework',
  'handover',
  'maintenanceWash',
  'afterCheck',
  'move',
] as const;
