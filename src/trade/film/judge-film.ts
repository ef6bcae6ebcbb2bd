import type { FilmReading } from '../model/condition.ts';
import { panelInWords } from '../model/panel-in-words.ts';
import { PanelName } from '../model/vehicle.ts';
import { expectedCut } from './film-cut.ts';

/** Bumpers are plastic on nearly every car, and a gauge for metal reads nothing there. */
const PLASTIC: ReadonlySet<PanelName> = new Set(['frontBumper', 'rearBumper']);

export interface FilmRefusal {
  readonly panel: PanelName;
  readonly measuredMicrometres: number;
  readonly gaugeErrorMicrometres: number;
  readonly cutMicrometres: number;
  /** What would be left in the worst case: measured less gauge error less the largest cut. */
  readonly leftMicrometres: number;
  readonly floorMicrometres: number;
  readonly text: string;
}

export interface FilmVerdict {
  readonly refusals: readonly FilmRefusal[];
  /** Panels nobody can judge by figures; the lead decides before they are cut. */
  readonly leadDecides: readonly { readonly panel: PanelName; readonly text: string }[];
}

/**
 * Refuses machine passes that could take a panel's total build below the shop's floor. The thinnest reading of a
 * panel counts, less the gauge's error. Total build is not clear coat: passing this is necessary, never sufficient.
 *
 * @param passesOn planned machine passes by panel; a panel left out is not cut.
 */
export function judgeFilm(
  floorMicrometres: number,
  readings: readonly FilmReading[],
  passesOn: Partial<Record<PanelName, { readonly compound: number; readonly finish: number }>>,
): FilmVerdict {
  const refusals: FilmRefusal[] = [];
  const leadDecides: { panel: PanelName; text: string }[] = [];
  for (const panel of PanelName.options) {
    const passes = passesOn[panel];
    if (!passes || passes.compound + passes.finish === 0) continue;
    if (PLASTIC.has(panel)) {
      leadDecides.push({ panel, text: `${panelInWords(panel)} is plastic and cannot be measured: the lead decides` });
      continue;
    }
    const thinnest = readings
      .filter((reading) => reading.panel === panel)
      .sort((a, b) => careful(a) - careful(b))
      .at(0);
    if (!thinnest) {
      leadDecides.push({ panel, text: `${panelInWords(panel)} was not measured: the lead decides` });
      continue;
    }
    const cut = expectedCut(passes).most;
    const left = careful(thinnest) - cut;
    if (left >= floorMicrometres) continue;
    refusals.push({
      panel,
      measuredMicrometres: thinnest.micrometres,
      gaugeErrorMicrometres: thinnest.gaugeErrorMicrometres,
      cutMicrometres: cut,
      leftMicrometres: left,
      floorMicrometres,
      text:
        `${panelInWords(panel)} reads ${thinnest.micrometres} ± ${thinnest.gaugeErrorMicrometres} µm; ` +
        `${passes.compound} compounding and ${passes.finish} finishing passes may cut ${cut} µm and leave ${left} µm, ` +
        `below the floor of ${floorMicrometres} µm`,
    });
  }
  return { refusals, leadDecides };
}

const careful = (reading: FilmReading): number => reading.micrometres - reading.gaugeErrorMicrometres;
