import { mix, uniform } from '../../../src/promise/simulate/seeded-draws.ts';
import type { RecordedDuration } from '../../../src/promise/spread/recorded-duration.ts';
import { normalQuantile } from '../../../src/promise/spread/standard-normal.ts';

/** Invented records whose truth is known: ln(worked / planned) = effects + deviation * z. */
export function records(
  count: number,
  truth: {
    readonly kind?: string;
    readonly logMean: number;
    readonly logDeviation: number;
    readonly person?: string | null;
    readonly personEffect?: number;
    readonly condition?: string | null;
    readonly conditionEffect?: number;
    readonly seed?: number;
  },
): RecordedDuration[] {
  return Array.from({ length: count }, (_, k) => {
    const z = normalQuantile(uniform(mix(truth.seed ?? 1), mix(k)));
    const effects = truth.logMean + (truth.personEffect ?? 0) + (truth.conditionEffect ?? 0);
    const plannedMinutes = 40 + (k % 7) * 10;
    return {
      id: `${truth.person ?? 'nobody'}-${truth.seed ?? 1}-${k}`,
      kind: truth.kind ?? 'compound',
      person: truth.person ?? null,
      condition: truth.condition ?? null,
      plannedMinutes,
      workedMinutes: plannedMinutes * Math.exp(effects + truth.logDeviation * z),
    };
  });
}
