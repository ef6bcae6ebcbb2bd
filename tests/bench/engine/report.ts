import type { Instance } from './instance-set.ts';
import type { Result } from './run-instance.ts';

export interface Row {
  readonly instance: Instance;
  readonly result: Result;
}

/** What is false about a result: a claim that contradicts what is known, or a schedule that breaks a rule. */
export function falsehood({ instance: { known }, result }: Row): string | undefined {
  const { status, makespan, lower } = result;
  if (!result.checked) return `schedule breaks a rule: ${result.violations[0]}`;
  if (known === undefined) return undefined;
  if (known === 'unsat') return makespan === null ? undefined : 'has a schedule where none is known to exist';
  if (status === 'infeasible') return 'claimed infeasible, but a schedule is known';
  if (status === 'optimal' && makespan! > known.upper) return `claimed optimal at ${makespan}, known ${known.upper}`;
  if (makespan !== null && makespan < known.lower) return `makespan ${makespan} below the proved bound ${known.lower}`;
  if (lower > known.upper) return `claimed bound ${lower} above the known makespan ${known.upper}`;
  return undefined;
}

/** One line a set, and within it one a half. */
export function table(rows: readonly Row[]): string {
  const lines = ['set                  half     n  feas proved infeas  gap-mean% gap-worst%  s-median  s-mean  s-max'];
  for (const set of new Set(rows.map((row) => row.instance.set))) {
    const inSet = rows.filter((row) => row.instance.set === set);
    lines.push(summary(set, 'all', inSet));
    const tuning = inSet.filter((row) => row.instance.tuning);
    if (inSet.length > 1) {
      lines.push(summary(set, 'tuned', tuning));
      lines.push(
        summary(
          set,
          'apart',
          inSet.filter((row) => !row.instance.tuning),
        ),
      );
    }
  }
  return lines.join('\n');
}

function summary(set: string, half: string, rows: readonly Row[]): string {
  const gaps = rows.flatMap((row) => gapPercent(row) ?? []);
  const seconds = rows.map((row) => row.result.seconds).sort((a, b) => a - b);
  const count = (status: string) => rows.filter((row) => row.result.status === status).length;
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / (values.length || 1);
  return [
    set.padEnd(20),
    half.padEnd(6),
    String(rows.length).padStart(3),
    String(rows.filter((row) => row.result.makespan !== null).length).padStart(5),
    String(count('optimal')).padStart(6),
    String(count('infeasible')).padStart(6),
    mean(gaps).toFixed(2).padStart(10),
    Math.max(0, ...gaps)
      .toFixed(2)
      .padStart(10),
    (seconds[seconds.length >> 1] ?? 0).toFixed(2).padStart(9),
    mean(seconds).toFixed(2).padStart(7),
    (seconds.at(-1) ?? 0).toFixed(2).padStart(6),
  ].join(' ');
}

/** Percent above the best known makespan. */
export function gapPercent({ instance: { known }, result: { makespan } }: Row): number | undefined {
  if (known === undefined || known === 'unsat' || makespan === null || !(known.upper > 0)) return undefined;
  return (100 * (makespan - known.upper)) / known.upper;
}
