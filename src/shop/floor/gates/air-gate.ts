import type { AirLabel } from '../../../trade/model/shop.ts';
import type { Objection } from '../../problems/shop-problem.ts';
import { stepOf } from '../recipe-step.ts';
import { type CarOnFloor, placeOfCar, type Situation } from './situation.ts';

/** The air of the zone allows it: no dust, mist or blow-drying beside open coating, no ignition beside vapour. */
export function airGate(situation: Situation): Objection[] {
  const { step, recipe, places, airZones } = situation;
  const zone = airZones.find((each) => each.id === placeOfCar(situation, places)?.airZoneId);
  if (step === null || zone === undefined) return [];
  const begun = recipe.airSpans.filter((span) => span.from.step === step.key && span.from.edge === 'start');
  const mine = new Set<AirLabel>([...step.air, ...begun.map((span) => span.label)]);
  if (mine.size === 0) return [];
  return situation.others
    .filter((other) => placeOfCar(other, places)?.airZoneId === zone.id)
    .flatMap((other) =>
      [...airNow(other)].flatMap((theirs) =>
        [...mine]
          .filter((label) =>
            zone.rules.some(
              (rule) =>
                rule.policy === 'forbid' &&
                ((rule.first === label && rule.second === theirs) || (rule.first === theirs && rule.second === label)),
            ),
          )
          .map((label) => ({
            rule: `air.${label}.${theirs}`,
            field: 'operation',
            text: `It puts ${airWords[label]} into ${zone.name}, where ${other.job.vehicle.registration || other.job.vehicle.class} has ${airWords[theirs]}.`,
          })),
      ),
    );
}

/** What a car does to the air around it now: the work under way, and the spans whose end has not come. */
function airNow(car: CarOnFloor): Set<AirLabel> {
  const labels = new Set<AirLabel>();
  const stateOf = new Map<string, { started: boolean; ended: boolean }>();
  for (const [key, work] of car.happened.work) {
    const ended = work.state === 'finished' || work.state === 'abandoned';
    stateOf.set(key.split('.')[0]!, { started: true, ended });
    if (work.state === 'underWay') for (const label of stepOf(car.recipe, key)?.air ?? []) labels.add(label);
  }
  const passed = (edge: { step: string; edge: 'start' | 'end' }) => {
    const state = stateOf.get(edge.step);
    return state !== undefined && (edge.edge === 'start' ? state.started : state.ended);
  };
  for (const span of car.recipe.airSpans) if (passed(span.from) && !passed(span.to)) labels.add(span.label);
  return labels;
}

const airWords: Record<AirLabel, string> = {
  dust: 'dust',
  mist: 'mist',
  blowDrying: 'blow-drying',
  openCoating: 'open coating',
  vapour: 'ignitable vapour',
  ignition: 'a source of ignition',
};
