import { commonPanelAreas } from './panel-areas.ts';
import type { KindNorm, WorkModifier, WorkNorms, WorkUnit } from './work-norms.ts';

/** Work a person does, at a pace: set-up, then minutes a unit. Spread in percent of the likely duration. */
function handWork(
  setUpMinutes: number,
  unit: WorkUnit,
  minutesPerUnit: number,
  modifier: WorkModifier = 'none',
  spread: readonly [number, number] = [80, 150],
): KindNorm {
  return {
    setUpMinutes,
    unit,
    minutesPerUnit,
    modifier,
    divisible: true,
    paced: true,
    optimisticPercent: spread[0],
    pessimisticPercent: spread[1],
  };
}

/** Work of one person's hands and eyes: a second person does not shorten it. */
const soleWork = (...norm: Parameters<typeof handWork>): KindNorm => ({ ...handWork(...norm), divisible: false });

/** Time that passes by itself. */
const waiting = (setUpMinutes: number, spread: readonly [number, number] = [85, 150]): KindNorm => ({
  ...handWork(setUpMinutes, 'visit', 0, 'none', spread),
  divisible: false,
  paced: false,
});

/**
 * Norms to start a shop with. Common practice, from memory; ranges in the trade are wide and the floor's own
 * records should replace these figures. Anchors: intake 20-30 min; a neglected wheel 30-45; strip wash 45-120;
 * re-wipe 20-40; lamps 10-15 an area over 8-12 areas; rework 30-90; handover 30-45; a move 5-15.
 */
export const commonNorms: WorkNorms = {
  kinds: {
    intake: soleWork(25, 'visit', 0),
    photographs: soleWork(15, 'visit', 0),
    wheelsOff: handWork(10, 'wheel', 7),
    wheels: handWork(5, 'wheel', 38, 'brakeDust', [75, 160]),
    mineralRemover: handWork(8, 'squareMetre', 0.8),
    ironTarRemover: handWork(5, 'squareMetre', 1.4, 'tar'),
    foamWash: handWork(5, 'squareMetre', 0.8, 'soil'),
    contactWash: handWork(5, 'squareMetre', 2.2, 'soil'),
    clay: handWork(5, 'squareMetre', 3, 'soil', [75, 170]),
    blowDry: handWork(3, 'squareMetre', 1.5),
    dryOut: waiting(45),
    cleanPaintInspection: soleWork(10, 'squareMetre', 2),
    customerAnswer: waiting(0, [10, 100]),
    mask: handWork(5, 'squareMetre', 2.5),
    testSpot: soleWork(25, 'visit', 0, 'none', [70, 180]),
    compound: handWork(15, 'compoundedSquareMetre', 17, 'hardness', [75, 160]),
    filmCheck: soleWork(5, 'squareMetre', 1),
    finishPolish: handWork(10, 'finishedSquareMetre', 11, 'hardness', [80, 150]),
    dustRemoval: handWork(10, 'squareMetre', 2),
    stripWash: handWork(15, 'squareMetre', 4),
    filmLaying: handWork(30, 'filmSquareMetre', 45, 'none', [75, 190]),
    interior: handWork(15, 'seat', 20, 'soil', [75, 180]),
    panelWipe: handWork(3, 'squareMetre', 2.2),
    solventFlash: waiting(10),
    coatLayer: handWork(15, 'squareMetre', 6.5, 'none', [85, 140]),
    layerWait: waiting(60),
    abrade: handWork(15, 'squareMetre', 4),
    cure: waiting(720),
    lampCure: { ...soleWork(10, 'lampArea', 13, 'none', [85, 125]), paced: false },
    glassCoat: handWork(10, 'glassSquareMetre', 12),
    wheelCoat: handWork(5, 'wheel', 12),
    trimCoat: handWork(30, 'visit', 0),
    wheelsOn: handWork(10, 'wheel', 7),
    unmask: handWork(3, 'squareMetre', 1),
    finalInspection: soleWork(20, 'squareMetre', 1),
    rework: handWork(60, 'visit', 0, 'none', [50, 150]),
    handover: soleWork(38, 'visit', 0, 'none', [80, 130]),
    maintenanceWash: handWork(20, 'squareMetre', 5, 'soil'),
    afterCheck: soleWork(25, 'visit', 0),
    move: soleWork(10, 'visit', 0, 'none', [50, 150]),
  },
  panelAreaM2: commonPanelAreas,
  glassAreaM2: { city: 2.4, compact: 2.9, saloon: 3.1, estate: 3.6, suv: 3.8, van: 4.5, coupe: 2.5 },
  seats: { city: 4, compact: 5, saloon: 5, estate: 5, suv: 5, van: 8, coupe: 4 },
  lampAreas: { city: 8, compact: 9, saloon: 10, estate: 11, suv: 12, van: 12, coupe: 9 },
  filmPanels: ['bonnet', 'frontBumper', 'leftFrontWing', 'rightFrontWing'],
  wheels: 4,
  soilPercent: [80, 100, 130, 175],
  brakeDustPercent: [25, 45, 70, 100],
  tarPercent: 160,
  hardnessPercent: { soft: 85, medium: 100, hard: 120 },
  hardnessPrior: {
    city: 'soft',
    compact: 'medium',
    saloon: 'medium',
    estate: 'medium',
    suv: 'medium',
    van: 'medium',
    coupe: 'hard',
  },
  compoundPasses: { soft: [0, 0, 1, 1, 2], medium: [0, 0, 1, 2, 2], hard: [0, 0, 1, 2, 3] },
  crewOutputPercent: [100, 180, 245, 300],
};
