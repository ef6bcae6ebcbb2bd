import type { Branch, Lag } from '../../../engine/problem/problem.ts';
import type { Formulation } from '../../../trade/formulate/formulation.ts';
import { doneBetween } from '../../../trade/formulate/progress-reading.ts';
import type { Objection } from '../../problems/shop-problem.ts';
import type { Situation } from './situation.ts';

const holdPointWords = {
  cleanPaint: 'the inspection on clean paint',
  decontaminated: 'the check that every surface is decontaminated',
  wholeCarFinished: 'the check that the whole car is finished',
  final: 'the final inspection',
} as const;

/**
 * Work comes in the recipe's order and inside its windows: what leads to it is finished (a hold point is named as
 * such), the least time since then has passed, and no window has closed: a stale wipe is done again, a layer too late is
 * abraded first. The figures are those a plan would use, from the same formulation.
 */
export function lagGate({ formulation, job, operation }: Situation): Objection[] {
  const index =
    formulation.operationIndex(job.id, `${operation}.rest`) ?? formulation.operationIndex(job.id, operation);
  if (index === undefined) return [];
  const { state } = formulation.operations[index]!;
  if (state === 'underWay' || state === 'finished') {
    const word = state === 'underWay' ? 'under way' : 'finished';
    return [{ rule: 'alreadyDone', field: 'operation', text: `The work is ${word} already.` }];
  }
  return formulation.problem.lags
    .filter((lag) => lag.to.operation === index)
    .flatMap((lag) => objectionsOf(lag, formulation));
}

function objectionsOf(lag: Lag, formulation: Formulation): Objection[] {
  const { problem, operations } = formulation;
  const before = problem.operations[lag.from.operation]!;
  const { label, step } = operations[lag.from.operation]!;
  const since = edgeSince(lag, formulation);
  if (since === null) {
    const branch = problem.branches.find(({ alternatives }) => alternatives.flat().includes(lag.from.operation));
    const isWithinOne = branch?.alternatives.some(
      (one) => one.includes(lag.from.operation) && one.includes(lag.to.operation),
    );
    if (branch !== undefined && !isWithinOne) return openBranch(branch, lag.from.operation, formulation);
    // A remedy not asked for, a move not needed: nothing to wait for.
    if (branch === undefined && before.presence === 'optional' && before.fixed === undefined) return [];
    if (lag.to.edge === 'end') return [];
    if (operations[lag.from.operation]!.role === 'remedy') return [lapsed(lag, formulation)];
    const point = step?.holdPoint ?? null;
    return point === null
      ? [{ rule: 'order', field: 'operation', text: `${label} comes before it and is not finished.` }]
      : [
          {
            rule: `holdPoint.${point}`,
            field: 'operation',
            text: `The hold point is not passed: ${holdPointWords[point]} (${label}) is not finished.`,
          },
        ];
  }
  const elapsed = problem.now - since;
  const edge = lag.from.edge === 'start' ? 'began' : 'ended';
  if (lag.to.edge === 'start' && elapsed < lag.min) {
    const text = `${label} ${edge} ${elapsed} minutes ago; it takes ${lag.min - elapsed} more until this may begin.`;
    return [{ rule: 'tooEarly', field: 'operation', text }];
  }
  if (lag.max === undefined || elapsed <= lag.max || isMadeGood(lag, formulation)) return [];
  return [windowClosed(lag, formulation)];
}

/** Nobody has chosen between the ways to go on, as by lamp or by waiting: one of them must be over. Said once, with its first. */
function openBranch({ alternatives }: Branch, operation: number, formulation: Formulation): Objection[] {
  if (!alternatives[0]!.includes(operation)) return [];
  if (alternatives.some((alternative) => alternative.every((each) => isWaitOver(each, formulation)))) return [];
  const labels = alternatives.map((alternative) => formulation.operations[alternative.at(-1)!]!.label);
  const text = `${labels.join(' or ')} comes before it and is not finished.`;
  return [{ rule: 'order', field: 'operation', text }];
}

/** Whether what nobody attends has gone on for as long as it takes, since all that it waits for has ended. */
function isWaitOver(operation: number, formulation: Formulation): boolean {
  const { problem, operations } = formulation;
  if (operations[operation]!.step?.attendance.kind !== 'unattended') return false;
  let since = 0;
  for (const lag of problem.lags) {
    if (lag.to.operation !== operation || lag.to.edge !== 'start') continue;
    const edge = edgeSince(lag, formulation);
    if (edge === null || edge + lag.min > problem.now) return false;
    since = Math.max(since, edge + lag.min);
  }
  // What has gone by of a wait in steady air is off its work already.
  return problem.operations[operation]!.modes.every(({ work, progress }) =>
    progress === undefined ? work === 0 : doneBetween(problem.progresses[progress]!, since, problem.now) >= work,
  );
}

/** A remedy that has come in and is not done: the window it makes good, with its figures. */
function lapsed(lag: Lag, formulation: Formulation): Objection {
  const remedy = lag.from.operation;
  const window = formulation.problem.lags.find(
    (each) => each.remedy?.includes(remedy) && edgeSince(each, formulation) !== null,
  );
  if (window !== undefined) return windowClosed(window, formulation);
  const { label } = formulation.operations[remedy]!;
  return { rule: 'window', field: 'operation', text: `The window has closed. First: ${label}.` };
}

function windowClosed(lag: Lag, formulation: Formulation): Objection {
  const { problem, operations } = formulation;
  const elapsed = problem.now - edgeSince(lag, formulation)!;
  const edge = lag.from.edge === 'start' ? 'began' : 'ended';
  const remedy = (lag.remedy ?? []).map((each) => operations[each]!.label);
  const first = remedy.length > 0 ? `First: ${remedy.join(', ')}.` : 'The lead decides.';
  const { label } = operations[lag.from.operation]!;
  const text = `${label} ${edge} ${elapsed} minutes ago, at most ${lag.max}: the window has closed. ${first}`;
  return { rule: 'window', field: 'operation', text };
}

/** The minute of the edge a lag begins at; null while it has not come. */
function edgeSince(lag: Lag, { problem, operations }: Formulation): number | null {
  const fixed = problem.operations[lag.from.operation]!.fixed;
  if (fixed?.by !== 'fact') return null;
  if (lag.from.edge === 'start') return fixed.start;
  // Unattended work that goes on by itself has its end ahead.
  if (
    operations[lag.from.operation]!.state === 'underWay' &&
    operations[lag.from.operation]!.step?.attendance.kind !== 'unattended'
  )
    return null;
  return fixed.end ?? null;
}

function isMadeGood(lag: Lag, { problem, operations }: Formulation): boolean {
  const remedy = lag.remedy ?? [];
  return (
    remedy.length > 0 &&
    remedy.every((each) => problem.operations[each]!.fixed?.by === 'fact' && operations[each]!.state === 'finished')
  );
}
