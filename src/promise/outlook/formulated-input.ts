import type { Schedule } from '../../engine/problem/solution.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { threePoint } from '../../trade/work-content/spread.ts';
import { streamOf } from '../simulate/seeded-draws.ts';
import type { ExecutionRules, SimulationInput, Surprise, WorkFactor } from '../simulate/simulation-input.ts';
import type { DurationModel } from '../spread/duration-model.ts';
import { fromMoments } from '../spread/log-normal.ts';

export interface OutlookTerms {
  readonly model: DurationModel;
  /** Probability, 0 to 1, that a final inspection fails. */
  readonly inspectionFails: number;
  /** What made an operation easier or harder, as its records say it; null when nothing did. */
  readonly conditionOf?: (operation: number) => string | null;
  readonly spreadFactor?: number;
  readonly rules?: Partial<ExecutionRules>;
  readonly scenarios: number;
  readonly seed: number;
}

/** Rework after a failed final inspection: 30 to 90 minutes, common practice. */
const rework = threePoint(30, 60, 90);
const reworkMinutes = fromMoments(rework.mean, rework.standardDeviation ** 2);
const certain: WorkFactor = { logMean: 0, logDeviation: 0 };

/**
 * A shop's plan as input of the simulation: every operation with the factor its kind of work and its people have, times of a
 * data sheet as they are, and a final inspection that may fail. Luck is named by job and operation, so that two plans of
 * one book meet the same.
 */
export function formulatedInput(formulation: Formulation, schedule: Schedule, terms: OutlookTerms): SimulationInput {
  const { problem, operations, people } = formulation;
  const personOf = (o: number): string | null => {
    const planned = schedule.operations[o];
    if (planned == null) return null;
    const uses = problem.operations[o]!.modes[planned.mode]!.uses;
    return uses.map(({ resource }) => people[resource]).find((id) => id != null) ?? null;
  };
  const surprises = operations.flatMap(({ kind, jobId, state }, o): Surprise[] => {
    if (kind !== 'finalInspection' || state === 'finished' || schedule.operations[o] == null) return [];
    const effects = [{ operation: o, extraWork: reworkMinutes }];
    return [{ probability: terms.inspectionFails, effects, stream: streamOf(`${jobId} fails inspection`) }];
  });
  return {
    problem,
    schedule,
    factors: operations.map(({ kind, step }, o) =>
      step?.duration.by === 'dataSheet'
        ? certain
        : terms.model.factorOf(kind, personOf(o), terms.conditionOf?.(o) ?? null),
    ),
    streams: operations.map(({ jobId, key }) => streamOf(`${jobId} ${key}`)),
    surprises,
    rules: { dayLogDeviation: terms.model.dayLogDeviation, ...terms.rules },
    ...(terms.spreadFactor === undefined ? {} : { spreadFactor: terms.spreadFactor }),
    scenarios: terms.scenarios,
    seed: terms.seed,
  };
}
