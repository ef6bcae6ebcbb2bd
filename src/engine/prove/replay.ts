import type { Schedule } from '../problem/solution.ts';
import type { Instant } from './logic.ts';
import type { Model } from './model.ts';

/**
 * What a schedule says, as literals to assume (half, bound, half, bound, ...): what is there, when, in which mode and
 * place. Undefined when the model cannot say it.
 */
export function literalsOf({ solver, operations, itineraries }: Model, schedule: Schedule): number[] | undefined {
  const literals: number[] = [];
  const { bounds } = solver;
  let sayable = true;
  const holds = (half: number) => literals.push(half, 1 - (half & 1));
  const is = ({ half, offset }: Instant, at: number) => {
    literals.push(half, at - offset, half ^ 1, offset - at);
  };
  for (const stay of itineraries.flatMap((itinerary) => itinerary.stays)) {
    const planned = schedule.stays[stay.stay];
    holds(planned == null ? stay.present ^ 1 : stay.present);
    if (planned == null) continue;
    const place = stay.places.find((each) => each.place === planned.place);
    if (place === undefined) sayable = false;
    else holds(place.chosen);
  }
  for (const [o, { presence, modes }] of operations.entries()) {
    const planned = schedule.operations[o];
    if (presence >= 0) holds(planned == null ? presence ^ 1 : presence);
    else if (planned == null) sayable = false;
    if (planned == null) continue;
    const mode = modes[planned.mode];
    if (mode === undefined) sayable = false;
    else if (mode.presence >= 0) holds(mode.presence);
  }
  for (const [o, { start, end, endOffset }] of operations.entries()) {
    const planned = schedule.operations[o];
    if (planned == null) continue;
    is({ half: start, offset: 0 }, planned.start);
    is({ half: end, offset: endOffset }, planned.end);
  }
  for (const { stay, from, to } of itineraries.flatMap((itinerary) => itinerary.stays)) {
    const planned = schedule.stays[stay];
    if (planned == null) continue;
    is(from, planned.from);
    is(to, planned.to);
  }
  for (let k = 0; k < literals.length; k += 2) {
    const half = literals[k]!;
    if (-bounds.lower[half ^ 1]! < literals[k + 1]!) sayable = false;
  }
  return sayable ? literals : undefined;
}
