import type { Problem } from '../../engine/problem/problem.ts';
import type { RunLuck, Runs } from '../../trade/work-content/learned-from-floor.ts';
import { betweenQuantiles } from '../spread/between-quantiles.ts';
import { NO_RUNS, NOTHING_KNOWN } from '../spread/day-runs.ts';
import { normalProbability, normalQuantile } from '../spread/standard-normal.ts';
import { evenly, type LuckOfScenario, luckOfScenario } from './even-luck.ts';
import { mix } from './seeded-draws.ts';
import type { ExecutionRules } from './simulation-input.ts';

/** Keep streams of days apart from those of operations. */
const DAY_SALT = 0x52dce729;
const RUN_SALT = 0x27d4eb2f;

/** Good and bad days, scenario by scenario. */
export class DayLuck {
  readonly #logDeviation: number;
  readonly #quantiles: readonly number[] | undefined;
  readonly #runs: Runs;
  readonly #today: RunLuck;
  readonly #firstDay: number;
  /** By day; those of this scenario are drawn up to a day when it is first asked for. */
  readonly #factor: Float64Array;
  #drawn = 0;
  #luckOfRun = 0;
  #luckOfScenario: LuckOfScenario = luckOfScenario(0, 0);

  constructor(
    { now, horizon }: Problem,
    { dayLogDeviation, dayQuantiles, runs = NO_RUNS, today = NOTHING_KNOWN }: ExecutionRules,
    spread: number,
  ) {
    this.#logDeviation = dayLogDeviation * spread;
    this.#quantiles = dayQuantiles;
    this.#runs = runs;
    this.#today = today;
    this.#firstDay = Math.floor(now / 1440);
    this.#factor = new Float64Array(Math.ceil(horizon / 1440) + 1).fill(1);
  }

  begin(luck: LuckOfScenario): void {
    this.#drawn = this.#firstDay;
    this.#luckOfScenario = luck;
  }

  /** How much longer than usual work takes on a day of this scenario; 1 when days do not differ, and for days that are over. */
  factorOf(day: number): number {
    if (this.#logDeviation > 0) while (this.#drawn <= day) this.#draw(this.#drawn++);
    return this.#factor[day]!;
  }

  /** A day's luck is its own and that of its run, which leans on the day before; laid out as the recorded days lie. */
  #draw(day: number): void {
    const { share, withDayBefore: leans } = this.#runs;
    let luck = this.#normal(day ^ DAY_SALT);
    if (share > 0) {
      const { luck: known, variance } = this.#today;
      const own = this.#normal(day ^ RUN_SALT);
      this.#luckOfRun =
        day === this.#firstDay
          ? known + Math.sqrt(variance) * own
          : leans * this.#luckOfRun + Math.sqrt(1 - leans ** 2) * own;
      luck = Math.sqrt(share) * this.#luckOfRun + Math.sqrt(1 - share) * luck;
    }
    const z = this.#quantiles === undefined ? luck : betweenQuantiles(this.#quantiles, normalProbability(luck));
    this.#factor[day] = Math.exp(this.#logDeviation * z);
  }

  #normal(stream: number): number {
    return normalQuantile(evenly(this.#luckOfScenario, mix(stream)));
  }
}
