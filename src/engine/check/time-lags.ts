import type { Lag, Problem } from '../problem/problem.ts';
import { edgeTime, isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report, type Violation } from './violation.ts';

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
    if (minutes < lag.min) reportTooFew(problem, lag, minutes, report);
    if (lag.max === undefined || minutes <= lag.max) continue;
    const missing = lag.remedy?.filter((remedy) => schedule.operations[remedy] == null);
    if (missing?.length !== 0) reportTooMany(problem, lag, minutes, missing, report);
  }
}

function reportTooFew(problem: Problem, lag: Lag, minutes: number, report: Report): void {
  const text = `${between(problem, lag)} lie ${minutes} minutes; at least ${lag.min} are needed.`;
  report({ ...aboutLag(lag), rule: lag.guards ?? 'lag-min', text });
}

function reportTooMany(
  problem: Problem,
  lag: Lag,
  minutes: number,
  missing: readonly number[] | undefined,
  report: Report,
): void {
  const lapsed = `${between(problem, lag)} lie ${minutes} minutes; at most ${lag.max} are allowed`;
  if (missing === undefined) {
    report({ ...aboutLag(lag), rule: 'lag-max', text: `${lapsed}.` });
    return;
  }
  const text = `${lapsed} without ${missing.map((remedy) => operationName(problem, remedy)).join(', ')}.`;
  report({ ...aboutLag(lag), rule: 'remedy-missing', text });
}

function aboutLag({ from, to, guards }: Lag): Pick<Violation, 'invariant' | 'operations' | 'stays'> {
  return { invariant: guards === undefined ? 1 : 6, operations: [from.operation, to.operation], stays: [] };
}

function between(problem: Problem, { from, to }: Lag): string {
  return `Between the ${from.edge} of ${operationName(problem, from.operation)} and the ${to.edge} of ${operationName(problem, to.operation)}`;
}

/** Ensures that planned work keeps its own release and deadline, its job's release, and the horizon. O(operations). */
export function checkReleasesAndDeadlines({ problem, schedule, stops }: PlanRead, report: Report): void {
  for (let o = 0; o < problem.operations.length; o++) {
    const operation = problem.operations[o]!;
    const planned = schedule.operations[o];
    if (planned == null || isFact(problem, o)) continue;
    const job = problem.jobs[operation.job]!;
    const release = Math.max(operation.release ?? 0, job.stays.length === 0 ? job.release : 0);
    const late = Math.min(operation.deadline ?? Number.POSITIVE_INFINITY, problem.horizon);
    if (planned.start < release) {
      const text = `${operationName(problem, o)} starts at minute ${planned.start}, before its release at ${release}.`;
      report({ invariant: 1, rule: 'release', text, operations: [o], stays: [] });
    }
    if (planned.end > late) {
      const rule = late === problem.horizon ? 'horizon' : 'deadline';
      const text = `${operationName(problem, o)} ends at minute ${planned.end}, after ${late === problem.horizon ? 'the horizon' : 'its deadline'} at ${late}.`;
      report({ invariant: 1, rule, text, operations: [o], stays: [] });
    }
  }
  for (const stop of stops) {
    if (stop === undefined || stop.departureIsFact || stop.to <= problem.horizon) continue;
    const text = `A stay of "${problem.jobs[stop.job]!.name}" ends at minute ${stop.to}, after the horizon at ${problem.horizon}.`;
    report({ invariant: 1, rule: 'horizon', text, operations: [], stays: [stop.stay] });
  }
}
