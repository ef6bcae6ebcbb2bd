import type { Lag } from '../problem/problem.ts';
import { edgeTime, isFact, type PlanRead } from './plan-read.ts';
import { type Invariant, operationName, type Report } from './violation.ts';

/** Elapsed minutes between the edges a lag relates, or undefined when it does not bind: an end absent, or both facts. */
export function elapsed({ problem, schedule }: PlanRead, lag: Lag): number | undefined {
  const from = schedule.operations[lag.from.operation];
  const to = schedule.operations[lag.to.operation];
  if (from == null || to == null) return undefined;
  if (isFact(problem, lag.from.operation) && isFact(problem, lag.to.operation)) return undefined;
  return edgeTime(to, lag.to.edge) - edgeTime(from, lag.from.edge);
}

/**
 * Ensures that every time lag holds, minimum and maximum, or that the whole remedy of a lapsed maximum is planned.
 * Lags that guard coated surfaces from water, or the customer from an uncured car, are the sixth invariant. O(lags).
 */
export function checkTimeLags(plan: PlanRead, report: Report): void {
  const { problem, schedule } = plan;
  for (const lag of problem.lags) {
    const minutes = elapsed(plan, lag);
    if (minutes === undefined) continue;
    const invariant: Invariant = lag.guards === undefined ? 1 : 6;
    const operations = [lag.from.operation, lag.to.operation];
    const between = `the ${lag.from.edge} of ${operationName(problem, lag.from.operation)} and the ${lag.to.edge} of ${operationName(problem, lag.to.operation)}`;
    if (minutes < lag.min) {
      const rule = lag.guards ?? 'lag-min';
      const text = `Between ${between} lie ${minutes} minutes; at least ${lag.min} are needed.`;
      report({ invariant, rule, text, operations, stays: [] });
    }
    if (lag.max === undefined || minutes <= lag.max) continue;
    const missing = lag.remedy?.filter((remedy) => schedule.operations[remedy] == null);
    if (missing?.length === 0) continue;
    const lapsed = `Between ${between} lie ${minutes} minutes; at most ${lag.max} are allowed`;
    const text =
      missing === undefined
        ? `${lapsed}.`
        : `${lapsed} without ${missing.map((remedy) => operationName(problem, remedy)).join(', ')}.`;
    report({ invariant, rule: missing === undefined ? 'lag-max' : 'remedy-missing', text, operations, stays: [] });
  }
}

/** Ensures that planned work keeps its own release and deadline, its job's release, and the horizon. O(operations). */
export function checkReleasesAndDeadlines({ problem, schedule, stops }: PlanRead, report: Report): void {
  for (const [o, operation] of problem.operations.entries()) {
    const planned = schedule.operations[o];
    if (planned == null || isFact(problem, o)) continue;
    const job = problem.jobs[operation.job]!;
    const release = Math.max(operation.release ?? 0, job.stays.length === 0 ? job.release : 0);
    const late = Math.min(operation.deadline ?? Number.POSITIVE_INFINITY, problem.horizon);
    const name = operationName(problem, o);
    if (planned.start < release) {
      const text = `${name} starts at minute ${planned.start}, before its release at ${release}.`;
      report({ invariant: 1, rule: 'release', text, operations: [o], stays: [] });
    }
    if (planned.end > late) {
      const rule = late === problem.horizon ? 'horizon' : 'deadline';
      const text = `${name} ends at minute ${planned.end}, after ${late === problem.horizon ? 'the horizon' : 'its deadline'} at ${late}.`;
      report({ invariant: 1, rule, text, operations: [o], stays: [] });
    }
  }
  for (const stop of stops) {
    if (stop === undefined || stop.departureIsFact || stop.to <= problem.horizon) continue;
    const text = `A stay of "${problem.jobs[stop.job]!.name}" ends at minute ${stop.to}, after the horizon at ${problem.horizon}.`;
    report({ invariant: 1, rule: 'horizon', text, operations: [], stays: [stop.stay] });
  }
}
