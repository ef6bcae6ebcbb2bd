import { judgeFilm } from '../../trade/film/judge-film.ts';
import type { Inspection } from '../../trade/model/condition.ts';
import type { Shop } from '../../trade/model/shop.ts';
import { PanelName } from '../../trade/model/vehicle.ts';
import { commonNorms } from '../../trade/work-content/common-norms.ts';
import { passesOn } from '../../trade/work-content/quantities.ts';
import type { WorkFacts } from '../../trade/work-content/work-facts.ts';
import type { Objection } from '../problems/shop-problem.ts';

export interface FilmScope {
  /** Machine passes the worst panel asks for, the finishing one included. */
  readonly correctionPasses: number;
  readonly sparedPanels: readonly PanelName[];
  readonly refusals: readonly Objection[];
  /** Panels no figure can judge: the lead decides. */
  readonly leadDecides: readonly string[];
}

/** What may be cut on a car: the passes its defects ask for, less the panels whose film would fall below the shop's floor. */
export function filmScope(inspection: Inspection, facts: WorkFacts, shop: Shop): FilmScope {
  const asked = { ...facts, correctionPasses: null };
  const passes = Object.fromEntries(PanelName.options.map((panel) => [panel, passesOn(panel, asked, commonNorms)]));
  const verdict = judgeFilm(shop.filmFloorMicrometres, inspection.film, passes);
  const sparedPanels = verdict.refusals.map((each) => each.panel);
  const cut = PanelName.options.filter((panel) => !sparedPanels.includes(panel)).map((panel) => passes[panel]!);
  return {
    correctionPasses: Math.min(4, Math.max(0, ...cut.map((each) => each.compound + each.finish))),
    sparedPanels,
    refusals: verdict.refusals.map((each) => ({
      rule: 'filmFloor',
      field: `inspection.film.${inspection.film.findIndex((reading) => reading.panel === each.panel)}.micrometres`,
      text: `${each.text}.`,
    })),
    leadDecides: verdict.leadDecides.map((each) => `${each.text}.`),
  };
}
