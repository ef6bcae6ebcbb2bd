import { PANEL_NAMES } from '../model/lists.ts';
import { panelInWords } from '../model/panel-in-words.ts';
import type { PanelName } from '../model/vehicle.ts';
import { machinePasses, scopedPasses } from './passes.ts';
import type { BreakdownLine } from './work-content.ts';
import type { WorkFacts } from './work-facts.ts';
import type { KindNorm, WorkNorms } from './work-norms.ts';

/** Painted area of a whole car, in square metres. */
export function paintAreaM2(vehicleClass: WorkFacts['vehicleClass'], norms: Pick<WorkNorms, 'panelAreaM2'>): number {
  return areaM2Of(PANEL_NAMES, vehicleClass, norms);
}

function areaM2Of(
  panels: readonly PanelName[],
  vehicleClass: WorkFacts['vehicleClass'],
  { panelAreaM2 }: Pick<WorkNorms, 'panelAreaM2'>,
): number {
  const areas = panelAreaM2[vehicleClass];
  let sum = 0;
  for (const panel of panels) sum += areas[panel];
  return sum;
}

/** The lines that the units of a kind of work give: one a panel for machine passes, otherwise one. */
export function quantityLines(norm: KindNorm, facts: WorkFacts, norms: WorkNorms): BreakdownLine[] {
  const pace = paceOf(norm, facts, norms);
  const { vehicleClass } = facts;
  switch (norm.unit) {
    case 'visit':
      return [];
    case 'squareMetre':
      return [areaLine('paint', paintAreaM2(vehicleClass, norms), pace)];
    case 'filmSquareMetre':
      return [areaLine('film', areaM2Of(norms.filmPanels, vehicleClass, norms), pace)];
    case 'glassSquareMetre':
      return [areaLine('glass', norms.glassAreaM2[vehicleClass], pace)];
    case 'wheel':
      return [unitLine(`${norms.wheels} wheels`, norms.wheels, pace)];
    case 'seat':
      return [unitLine(`${norms.seats[vehicleClass]} seats`, norms.seats[vehicleClass], pace)];
    case 'lampArea':
      return [unitLine(`${norms.lampAreas[vehicleClass]} areas`, norms.lampAreas[vehicleClass], pace)];
    case 'compoundedSquareMetre':
      return passLines('compound', facts, norms, pace);
    case 'finishedSquareMetre':
      return passLines('finish', facts, norms, pace);
  }
}

/** How long a unit takes, and why. */
interface UnitPace {
  readonly normMinutes: number;
  readonly modifier: Modifier;
}

function paceOf(norm: KindNorm, facts: WorkFacts, norms: WorkNorms): UnitPace {
  const ofLamp = norm.unit === 'lampArea' ? facts.lampMinutesPerArea : null;
  return { normMinutes: ofLamp ?? norm.minutesPerUnit, modifier: modifierOf(norm, facts, norms) };
}

function unitLine(what: string, quantity: number, { normMinutes, modifier }: UnitPace): BreakdownLine {
  const minutesPerUnit = (normMinutes * modifier.percent) / 100;
  return {
    label: `${what} × ${figure(normMinutes)} min${modifier.text}`,
    minutes: Math.round(quantity * minutesPerUnit),
  };
}

function areaLine(what: string, areaM2: number, pace: UnitPace): BreakdownLine {
  return unitLine(`${what} ${figure(areaM2)} m²`, areaM2, pace);
}

/** A line for each panel that gets such a pass. */
function passLines(pass: 'compound' | 'finish', facts: WorkFacts, norms: WorkNorms, pace: UnitPace): BreakdownLine[] {
  const areas = norms.panelAreaM2[facts.vehicleClass];
  const lines: BreakdownLine[] = [];
  for (const panel of PANEL_NAMES) {
    const passes = passesOn(panel, facts, norms)[pass];
    if (passes === 0) continue;
    const what = `${panelInWords(panel)} ${figure(areas[panel])} m², ${passes} ${passes === 1 ? 'pass' : 'passes'}`;
    lines.push(unitLine(what, areas[panel] * passes, pace));
  }
  return lines;
}

/** Passes on one panel: never more than approved; a panel without defects is left alone. */
export function passesOn(
  panel: PanelName,
  facts: Pick<WorkFacts, 'defects' | 'paintHardness' | 'correctionPasses'>,
  norms: WorkNorms,
): { compound: number; finish: number } {
  const asked = machinePasses(facts.defects[panel], facts.paintHardness, norms);
  if (facts.correctionPasses === null) return asked;
  const approved = scopedPasses(facts.correctionPasses);
  return {
    compound: Math.min(asked.compound, approved.compound),
    finish: Math.min(asked.finish, approved.finish),
  };
}

interface Modifier {
  readonly percent: number;
  readonly text: string;
}

function modifierOf(norm: KindNorm, facts: WorkFacts, norms: WorkNorms): Modifier {
  switch (norm.modifier) {
    case 'none':
      return { percent: 100, text: '' };
    case 'soil':
      return said(`soil ${facts.soil}`, norms.soilPercent[facts.soil]!);
    case 'brakeDust':
      return said(`brake dust ${facts.brakeDust}`, norms.brakeDustPercent[facts.brakeDust]!);
    case 'tar':
      return facts.tar ? said('tar', norms.tarPercent) : { percent: 100, text: '' };
    case 'hardness':
      return said(`${facts.paintHardness} paint`, norms.hardnessPercent[facts.paintHardness]);
  }
}

const said = (text: string, percent: number): Modifier => ({ percent, text: ` (${text}, ${percent} %)` });

const figure = (value: number): string => String(Math.round(value * 100) / 100);
