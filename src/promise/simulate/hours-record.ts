import { NEVER } from '../../engine/calendar/never.ts';
import type { CompiledPlan } from './compile-plan.ts';
import type { Replay } from './replay.ts';
import { sampleQuantile } from './sample-quantile.ts';

export interface MinutesOver {
  readonly meanMinutes: number;
  readonly p90Minutes: number;
}

/** Minutes outside of usual hours, scenario by scenario. */
export class HoursRecord {
  readonly #plan: CompiledPlan;
  readonly #withOvertime: number[] = [];
  readonly #overtime: Int32Array;
  readonly #stayedOn: Int32Array;

  constructor(plan: CompiledPlan, scenarios: number) {
    this.#plan = plan;
    this.#overtime = new Int32Array(scenarios);
    this.#stayedOn = new Int32Array(scenarios);
    for (let node = 0; node < plan.rules.length; node++) {
      if (plan.rules[node]!.overtime.length > 0) this.#withOvertime.push(node);
    }
  }

  /** Writes down the scenario that was carried out last. */
  note(replay: Replay, scenario: number): void {
    this.#stayedOn[scenario] = replay.stayedOn;
    let minutes = 0;
    for (const node of this.#withOvertime) {
      if (replay.present[node] === 0 || replay.end[node]! >= NEVER) continue;
      for (const hours of this.#plan.rules[node]!.overtime) {
        minutes += hours.minutesIn(replay.start[node]!, replay.end[node]!);
      }
    }
    this.#overtime[scenario] = minutes;
  }

  /** Authorised overtime worked in the first so many scenarios. */
  overtime(scenarios: number): MinutesOver {
    return minutesOver(this.#overtime.slice(0, scenarios));
  }

  /** Minutes stayed on past hours to finish unpausable work. */
  stayedOn(scenarios: number): MinutesOver {
    return minutesOver(this.#stayedOn.slice(0, scenarios));
  }
}

function minutesOver(values: Int32Array): MinutesOver {
  let sum = 0;
  for (const value of values) sum += value;
  return { meanMinutes: sum / values.length, p90Minutes: sampleQuantile(values.sort(), 0.9) };
}
