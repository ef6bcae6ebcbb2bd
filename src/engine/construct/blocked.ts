import type { ConflictPart } from '../problem/solution.ts';
import type { Obstacle } from './earliest-fit.ts';
import type { ShopModel } from './shop-model.ts';

/** Why a job found no time: the operation that could not be placed, and what stood in its way last. */
export interface Blocked {
  /** Indices of the problem. */
  readonly job: number;
  /** -1 when no operation was reached, because no place was free. */
  readonly operation: number;
  readonly obstacle: Obstacle | 'lag' | 'air' | 'place' | 'fixed';
  readonly index: number;
}

/** The same in the words of a conflict, for people. */
export function describeBlocked(shop: ShopModel, blocked: Blocked): ConflictPart[] {
  const { jobs, operations, stays, zones, lags } = shop.problem;
  const job = jobs[blocked.job]!.name;
  const operation = blocked.operation < 0 ? null : operations[blocked.operation]!;
  const parts: ConflictPart[] = [];
  if (operation !== null) {
    const by = Math.min(shop.horizon, operation.deadline ?? shop.horizon);
    const until = blocked.obstacle === 'place' ? 'while its place is free' : `before minute ${by}`;
    parts.push({
      kind: 'operation',
      index: blocked.operation,
      text: `${job}: no time for "${operation.name}" ${until}`,
    });
  }
  if (blocked.obstacle === 'place') {
    const places = stays[blocked.index]!.places.map((place) => shop.places[place]!.name).join(', ');
    parts.push({ kind: 'stay', index: blocked.index, text: `${job}: no gap long enough in ${places}` });
  } else if (blocked.obstacle === 'resource') {
    const resource = shop.resources[blocked.index]!.name;
    parts.push({ kind: 'resource', index: blocked.index, text: `${resource} is taken or not there` });
  } else if (blocked.obstacle === 'air') {
    parts.push({ kind: 'air', index: blocked.index, text: `the air of ${zones[blocked.index]!} is not clear` });
  } else if (blocked.obstacle === 'lag') {
    const lag = lags[blocked.index]!;
    const from = operations[lag.from.operation]!.name;
    const to = operations[lag.to.operation]!.name;
    parts.push({
      kind: 'lag',
      index: blocked.index,
      text: `"${to}" cannot follow "${from}" within ${lag.max} minutes`,
    });
  } else if (blocked.obstacle === 'fixed') {
    parts.push({
      kind: 'fixed',
      index: blocked.index,
      text: `${job}: "${operations[blocked.index]!.name}" is fixed and does not fit`,
    });
  } else if (blocked.obstacle === 'budget') {
    parts.push({
      kind: 'budget',
      index: blocked.operation,
      text: `${job}: the daily limit of "${operation!.name}" is used up`,
    });
  }
  return parts;
}
