import type { WorkNorms } from './work-norms.ts';

type Areas = WorkNorms['panelAreaM2'];
type PanelAreas = Areas[keyof Areas];

/** Panels that come in pairs are given once. Doors a class does not have count as part of the rear wing. */
function panels(
  bonnet: number,
  roof: number,
  bootLid: number,
  frontBumper: number,
  rearBumper: number,
  frontWing: number,
  frontDoor: number,
  rearDoor: number,
  rearWing: number,
  sill: number,
): PanelAreas {
  return {
    bonnet,
    roof,
    bootLid,
    frontBumper,
    rearBumper,
    leftFrontWing: frontWing,
    rightFrontWing: frontWing,
    leftFrontDoor: frontDoor,
    rightFrontDoor: frontDoor,
    leftRearDoor: rearDoor,
    rightRearDoor: rearDoor,
    leftRearWing: rearWing,
    rightRearWing: rearWing,
    leftSill: sill,
    rightSill: sill,
  };
}

/**
 * Painted area of each panel, in square metres, by vehicle class. Common practice: estimates from memory of
 * outside dimensions, to be corrected by the shop where a class matters to it.
 */
export const commonPanelAreas: Areas = {
  city: panels(1.0, 1.4, 0.6, 0.8, 0.8, 0.4, 0.7, 0.45, 0.55, 0.15),
  compact: panels(1.5, 1.7, 0.8, 0.9, 0.9, 0.5, 0.75, 0.65, 0.7, 0.2),
  saloon: panels(1.7, 1.6, 1.2, 1.0, 1.0, 0.6, 0.85, 0.75, 0.85, 0.2),
  estate: panels(1.7, 2.4, 0.9, 1.0, 1.0, 0.6, 0.85, 0.8, 1.0, 0.2),
  suv: panels(1.9, 2.3, 1.1, 1.1, 1.1, 0.7, 1.0, 0.9, 0.95, 0.25),
  van: panels(1.2, 3.6, 1.7, 1.1, 1.0, 0.6, 1.1, 1.5, 1.8, 0.3),
  coupe: panels(1.7, 1.2, 0.8, 1.0, 1.0, 0.65, 1.1, 0.1, 0.95, 0.2),
};
