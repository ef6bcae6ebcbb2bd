import type { Problem } from './problem.ts';
import type { Faults } from './problem-error.ts';

/** Ensures that progresses, resources, budgets, places, air rules and what is taken are sound in themselves. */
export function validateShop(problem: Problem, faults: Faults): void {
  for (const [p, { at, rate }] of problem.progresses.entries()) {
    const field = `progresses[${p}]`;
    if (at.length !== rate.length) faults.add(`${field}.rate`, `has ${rate.length} entries for ${at.length} of at`);
    for (const [k, minute] of at.entries()) {
      faults.whole(`${field}.at[${k}]`, minute);
      if (k > 0 && minute <= at[k - 1]!) faults.add(`${field}.at[${k}]`, `${minute} does not come after ${at[k - 1]}`);
    }
    for (const [k, value] of rate.entries()) faults.whole(`${field}.rate[${k}]`, value);
  }
  for (const [r, resource] of problem.resources.entries()) {
    const field = `resources[${r}]`;
    faults.whole(`${field}.capacity`, resource.capacity);
    faults.intervals(`${field}.open`, resource.open);
    faults.intervals(`${field}.overtime`, resource.overtime);
  }
  for (const [b, budget] of problem.budgets.entries()) {
    faults.whole(`budgets[${b}].limit`, budget.limit);
    faults.intervals(`budgets[${b}].windows`, budget.windows);
  }
  validatePlaces(problem, faults);
  validateAir(problem, faults);
  validateTaken(problem, faults);
}

function validatePlaces({ places, zones }: Problem, faults: Faults): void {
  for (const [p, place] of places.entries()) {
    const field = `places[${p}]`;
    faults.whole(`${field}.turnaround`, place.turnaround);
    if (place.standingCost !== undefined) faults.whole(`${field}.standingCost`, place.standingCost);
    faults.intervals(`${field}.open`, place.open);
    faults.index(`${field}.zone`, place.zone, zones.length, 'zone');
    for (const [k, blocker] of place.blockedBy.entries()) {
      faults.index(`${field}.blockedBy[${k}]`, blocker, places.length, 'place');
      if (blocker === p) faults.add(`${field}.blockedBy[${k}]`, 'a place cannot block itself');
    }
  }
}

function validateAir({ airExclusions, zones, airLabels }: Problem, faults: Faults): void {
  for (const [e, exclusion] of airExclusions.entries()) {
    const field = `airExclusions[${e}]`;
    faults.index(`${field}.zone`, exclusion.zone, zones.length, 'zone');
    faults.index(`${field}.first`, exclusion.first, airLabels.length, 'air label');
    faults.index(`${field}.second`, exclusion.second, airLabels.length, 'air label');
    faults.whole(`${field}.settleAfterFirst`, exclusion.settleAfterFirst);
    faults.whole(`${field}.settleAfterSecond`, exclusion.settleAfterSecond);
  }
}

function validateTaken({ takenPlaces, takenResources, places, resources }: Problem, faults: Faults): void {
  for (const [t, taken] of takenPlaces.entries()) {
    faults.index(`takenPlaces[${t}].place`, taken.place, places.length, 'place');
    faults.interval(`takenPlaces[${t}]`, taken);
  }
  for (const [t, taken] of takenResources.entries()) {
    faults.index(`takenResources[${t}].resource`, taken.resource, resources.length, 'resource');
    faults.whole(`takenResources[${t}].amount`, taken.amount);
    faults.interval(`takenResources[${t}]`, taken);
  }
}
