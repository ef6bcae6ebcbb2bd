import type { Edge, Lag } from '../../engine/problem/problem.ts';
import { guards, type JobLags } from './job-lags.ts';
import type { JobWork } from './job-work.ts';
import { isUnattended } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import type { Window } from './windows.ts';

/** What a window is counted from: of its remedy, if that has come in, the end. */
interface Beginning {
  readonly instance: StepInstance;
  readonly edge: Edge;
  /** The round of the remedy that the instance is the end of, if it is. */
  readonly round: readonly StepInstance[];
}

/** Writes a window, and after each round of its remedy what is left to keep of it. */
export function writeWindow(lags: JobLags, window: Window): void {
  const { bound, rounds, given } = window;
  const { lag, from, to } = bound;
  const min = lags.minutes(lag, from, to, 'min', lag.from.edge);
  let beginning: Beginning = { instance: from, edge: lag.from.edge, round: [] };
  let least = min;
  let most = lags.minutes(lag, from, to, 'max', lag.from.edge);
  for (const { instances } of rounds) {
    writeRemedy(lags, beginning, instances);
    const mayLapse = lags.hasOptional(instances) && !given;
    const remedy = startsOf(instances, lags.work);
    writeBetween(lags, beginning, window, least, mayLapse ? { max: Math.max(least, most), remedy } : {});
    const last = instances.at(-1)!;
    beginning = { instance: last, edge: 'end', round: instances };
    const own = lags.stated(last, to);
    // Repeating what the window began with begins the window again, its minimum included.
    least = own !== undefined ? lags.minutes(own, last, to, 'min', 'end') : last.step.kind === from.step.kind ? min : 0;
    most = own?.max != null ? lags.minutes(own, last, to, 'max', 'end') : lags.minutes(lag, from, to, 'max', 'start');
  }
  writeBetween(lags, beginning, window, least, given ? {} : { max: Math.max(least, most) });
}

/** A remedy's steps, one after another, after what they make good. */
function writeRemedy(lags: JobLags, { instance, edge }: Beginning, round: readonly StepInstance[]): void {
  let before = instance;
  let since = edge;
  for (const next of round) {
    const own = lags.stated(before, next);
    if (own === undefined) lags.push(before, since, next, 'start', 0);
    else lags.push(before, own.from.edge, next, own.to.edge, lags.minutes(own, before, next, 'min', own.from.edge));
    before = next;
    since = 'end';
  }
}

function startsOf(instances: readonly StepInstance[], { written }: JobWork): number[] {
  const starts: number[] = [];
  for (const instance of instances) starts.push(written.get(instance)!.first);
  return starts;
}

/** A window's lag, its maximum counted from the end of `beginning` or of what that follows by itself. */
function writeBetween(
  lags: JobLags,
  beginning: Beginning,
  { bound: { lag, to } }: Window,
  min: number,
  { max, ...more }: Pick<Lag, 'max' | 'remedy'>,
): void {
  const { instance, edge } = beginning;
  const since = edge === 'end' && max !== undefined ? begunBy(lags.work, beginning) : undefined;
  if (since === undefined) {
    const limit = max === undefined ? {} : { max };
    lags.push(instance, edge, to, lag.to.edge, min, { ...limit, ...more, ...guards(lag) });
    return;
  }
  lags.push(instance, edge, to, lag.to.edge, min, guards(lag));
  lags.push(since, 'end', to, lag.to.edge, min, { max: max! + instance.breakdown.minutes, ...more });
}

/**
 * What unattended work begins with: the end of the one step before it in its stay. A plan may have it begin later, and so keep open a
 * window that is counted from it; on the floor it begins by itself.
 */
function begunBy({ order, settled }: JobWork, { instance, round }: Beginning): StepInstance | undefined {
  if (!isUnattended(instance) || instance.step.duration.by === 'dataSheet' || settled.has(instance)) return undefined;
  const before: StepInstance[] = [];
  for (const { from, to } of order.links) if (to === instance) before.push(from);
  const position = round.indexOf(instance);
  if (position > 0) before.push(round[position - 1]!);
  return before.length === 1 && before[0]!.step.stay === instance.step.stay ? before[0] : undefined;
}
