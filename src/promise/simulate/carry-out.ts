import { NEVER } from '../../engine/calendar/never.ts';
import type { WorkDraws } from './draw-work.ts';
import type { NodeRules } from './node-rules.ts';
import type { ExecutionRules } from './simulation-input.ts';
import type { WorkedLog } from './worked-log.ts';

/** How begun work goes on: through its crew's hours and its budget, pausing or staying on when it overruns them. */
export class CarryOut {
  /** Minutes worked past the end of somebody's hours, by node. */
  readonly stayed: Int32Array;
  readonly #draws: WorkDraws;
  readonly #log: WorkedLog;
  readonly #stayOnMinutes: number;
  readonly #daysDiffer: boolean;

  constructor(nodes: number, draws: WorkDraws, log: WorkedLog, rules: ExecutionRules) {
    this.stayed = new Int32Array(nodes);
    this.#draws = draws;
    this.#log = log;
    this.#stayOnMinutes = rules.stayOnMinutes;
    this.#daysDiffer = rules.dayLogDeviation > 0;
  }

  /** The end of work begun at `start`, as this scenario drew it. */
  endOf(node: number, rules: NodeRules, start: number): number {
    const { calendar, budget, pausable } = rules;
    let work = this.#draws.work[node]!;
    if (work === 0) return start;
    if (this.#daysDiffer) {
      work = Math.max(1, Math.round(work * this.#draws.days.factorOf(Math.floor(start / 1440))));
    }
    const keeps = this.#log.keeps(node);
    this.stayed[node] = 0;
    if (calendar === null) {
      if (keeps) this.#log.add(node, null, start, start + work);
      return start + work;
    }
    if (!pausable) {
      const end = calendar.endStayingOn(start, work, this.#stayOnMinutes);
      if (end >= 0) {
        const closes = calendar.runTo[calendar.runAt(start)]!;
        if (end > closes && rules.open !== null) {
          this.stayed[node] = end - closes - rules.open.minutesIn(closes, end);
        }
        if (keeps) this.#log.add(node, null, start, end);
        return end;
      }
    }
    if (budget !== null) return this.#log.workWithin(node, calendar, budget, start, work);
    const end = calendar.endOfShort(start, work);
    if (keeps && end < NEVER) this.#log.add(node, calendar, start, end);
    return end;
  }
}
