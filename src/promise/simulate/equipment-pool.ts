import type { PoolPlace } from './node-rules.ts';
import type { ScenarioTimes } from './scenario-times.ts';

/** Earlier users are looked through this far back, or this many times the units: whoever came before has long finished. */
const LEAST_MEMORY = 64;
const MEMORY_A_UNIT = 16;

/**
 * Interchangeable equipment: starts keep the plan's order, and whichever unit is free first is taken, as in the recursion of
 * J. Kiefer and J. Wolfowitz, "On the theory of queues with many servers", Transactions of the AMS 78 (1955).
 */
export class EquipmentPool {
  /** The user whose unit was free first, when last asked. */
  holder = -1;
  readonly #times: ScenarioTimes;
  /** The latest ends found, ascending, and whose they are. */
  readonly #latest: Int32Array;
  readonly #users: Int32Array;

  constructor(times: ScenarioTimes, mostUnits: number) {
    this.#times = times;
    this.#latest = new Int32Array(mostUnits);
    this.#users = new Int32Array(mostUnits);
  }

  /** When the first of `units` interchangeable units is free: the units-th latest end among earlier users; 0 when one is by `from`. */
  unitFree({ units, members, index }: PoolPlace, from: number): number {
    if (index < units) return 0;
    const latest = this.#latest;
    const users = this.#users;
    const first = Math.max(0, index - Math.max(LEAST_MEMORY, MEMORY_A_UNIT * units));
    let held = 0;
    for (let k = index - 1; k >= first; k--) {
      const user = members[k]!;
      if (this.#times.present[user] === 0) continue;
      const ends = this.#times.end[user]!;
      if (ends <= from) continue;
      let at: number;
      if (held < units) {
        for (at = held; at > 0 && latest[at - 1]! > ends; at--) {
          latest[at] = latest[at - 1]!;
          users[at] = users[at - 1]!;
        }
        held++;
      } else {
        if (ends <= latest[0]!) continue;
        for (at = 0; at + 1 < units && latest[at + 1]! < ends; at++) {
          latest[at] = latest[at + 1]!;
          users[at] = users[at + 1]!;
        }
      }
      latest[at] = ends;
      users[at] = user;
    }
    if (held < units) return 0;
    this.holder = users[0]!;
    return latest[0]!;
  }
}
