import { panelInWords } from '../model/panel-in-words.ts';
import { PanelName } from '../model/vehicle.ts';
import { machinePasses, scopedPasses } from './passes.ts';
import type { BreakdownLine } from './work-content.ts';
import type { WorkFacts } from './work-facts.ts';
import type { KindNorm, WorkNorms } from './work-norms.ts';

/** Painted area of a whole car, in square metres. */
export function paintAreaM2(vehicleClass: WorkFacts['vehicleClass'], norms: Pick<WorkNorms, 'panelAreaM2'>): number {
  return PanelName.options.reduce((area, panel) => area + norms.panelAreaM2[vehicleClass][panel], 0);
}

/** The lines that the units of a kind of work give: one a panel for machine passes, otherwise one. */
export function quantityLines(norm: KindNorm, facts: WorkFacts, norms: WorkNorms): BreakdownLine[] {
  const modifier = modifierOf(norm, facts, norms);
  const normMinutes =
    norm.unit === 'lampArea' ? (facts.lampMinutesPerArea ?? norm.minutesPerUnit) : norm.minutesPerUnit;
  const minutesPerUnit = (normMinutes * modifier.percent) / 100;
  const line = (what: string, quantity: number): BreakdownLine => ({
    label: `${what} × ${figure(normMinutes)} min${modifier.text}`,
    minutes: Math.round(quantity * minutesPerUnit),
  });
  const areaLine = (what: string, areaM2: number) => line(`${what} ${figure(areaM2)} m²`, areaM2);
  switch (norm.unit) {
    case 'visit':
      return [];
    case 'squareMetre':
      return [areaLine('paint', paintAreaM2(facts.vehicleClass, norms))];
    case 'filmSquareMetre': {
      const areas = norms.panelAreaM2[facts.vehicleClass];
      return [
        areaLine(
          'film',
          norms.filmPanels.reduce((area, panel) => area + areas[panel], 0),
        ),
      ];
    }
    case 'glassSquareMetre':
      return [areaLine('glass', norms.glassAreaM2[facts.vehicleClass])];
    case 'wheel':
      return [line(`${norms.wheels} wheels`, norms.wheels)];
    case 'seat':
      return [line(`${norms.seats[facts.vehicleClass]} seats`, norms.seats[facts.vehicleClass])];
    case 'lampArea':
      return [line(`${norms.lampAreas[facts.vehicleClass]} areas`, norms.lampAreas[facts.vehicleClass])];
    case 'compoundedSquareMetre':
    case 'finishedSquareMetre':
      return PanelName.options.flatMap((panel) => {
        const passes = passesOn(panel, facts, norms)[norm.unit === 'compoundedSquareMetre' ? 'compound' : 'finish'];
        const areaM2 = norms.panelAreaM2[facts.vehicleClass][panel];
        const what = `${panelInWords(panel)} ${figure(areaM2)} m², ${passes} ${passes === 1 ? 'pass' : 'passes'}`;
        return passes === 0 ? [] : [line(what, areaM2 * passes)];
      });
  }
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

function modifierOf(norm: KindNorm, facts: WorkFacts, norms: WorkNorms): { percent: number; text: string } {
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

const said = (text: string, percent: number) => ({ percent, text: ` (${text}, ${percent} %)` });

const figure = (value: number): string => String(Math.round(value * 100) / 100);
