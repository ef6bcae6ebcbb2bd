import type { Edge, Lag } from '../../engine/problem/problem.ts';
import type { RecipeLag } from '../model/recipe.ts';
import type { Car } from './car.ts';
import type { JobWork, JobWriting } from './job-writer.ts';
import { lagMinutes } from './lag-minutes.ts';
import { edgeMinute, isUnattended } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import type { Window } from './windows.ts';

/**
 * Writes the order of a job's work: its links, the recipe's lags, and the windows with their remedies. Nothing is
 * demanded of a fact: a lag that leads to one is left out.
 */
export function writeLags(car: Car, work: JobWork, { draft, times }: JobWriting): void {
  const { written, settled } = work;

  const at = (instance: StepInstance, edge: Edge) => ({
    operation: edge === 'start' ? written.get(instance)!.first : written.get(instance)!.last,
    edge,
  });
  const isFact = (operation: number) => draft.operations[operation]!.fixed?.by === 'fact';

  const push = (
    from: StepInstance,
    fromEdge: Edge,
    to: StepInstance,
    toEdge: Edge,
    min: number,
    more: Pick<Lag, 'max' | 'remedy' | 'guards'> = {},
  ) => {
    const lag = { from: at(from, fromEdge), to: at(to, toEdge), min, ...more };
    if (!isFact(lag.to.operation)) draft.lags.push(lag);
  };

  const minutes = (lag: RecipeLag, from: StepInstance, to: StepInstance, which: 'min' | 'max', edge: Edge) =>
    lagMinutes(car, times, { lag, from, to }, which, work.zonesFrom(from), edgeMinute(car, from, edge, settled));

  /** The recipe's own lag between two steps, when it has one. */
  const stated = (from: StepInstance, to: StepInstance) =>
    car.recipe.lags.find((lag) => lag.from.step === from.step.key && lag.to.step === to.step.key);

  const isOptional = (instances: readonly StepInstance[]) =>
    instances.some((instance) => draft.operations[written.get(instance)!.last]!.presence === 'optional');

  /** A remedy's steps, one after another, after what they make good. */
  const chain = (from: StepInstance, fromEdge: Edge, instances: readonly StepInstance[]) => {
    let before = from;
    let edge = fromEdge;
    for (const instance of instances) {
      const own = stated(before, instance);
      if (own === undefined) push(before, edge, instance, 'start', 0);
      else push(before, own.from.edge, instance, own.to.edge, minutes(own, before, instance, 'min', own.from.edge));
      before = instance;
      edge = 'end';
    }
  };

  /**
   * What unattended work begins with: the end of the one step before it in its stay. A plan may have it begin later, and so keep open a
   * window that is counted from it; on the floor it begins by itself.
   */
  const begunBy = (instance: StepInstance, round: readonly StepInstance[]): StepInstance | undefined => {
    if (!isUnattended(instance) || instance.step.duration.by === 'dataSheet' || settled.has(instance)) return undefined;
    const before = [
      ...work.order.links.filter(({ to }) => to === instance).map(({ from }) => from),
      ...round.filter((_, k) => round[k + 1] === instance),
    ];
    return before.length === 1 && before[0]!.step.stay === instance.step.stay ? before[0] : undefined;
  };

  /** A window of which the beginning is the end of `before`, or of what that follows by itself. */
  const pushWindow = (
    before: StepInstance,
    edge: Edge,
    round: readonly StepInstance[],
    { bound: { lag, to } }: Window,
    min: number,
    { max, ...more }: Pick<Lag, 'max' | 'remedy'>,
  ) => {
    const since = edge === 'end' && max !== undefined ? begunBy(before, round) : undefined;
    if (since === undefined) {
      push(before, edge, to, lag.to.edge, min, { ...(max === undefined ? {} : { max }), ...more, ...guards(lag) });
      return;
    }
    push(before, edge, to, lag.to.edge, min, guards(lag));
    push(since, 'end', to, lag.to.edge, min, { max: max! + before.breakdown.minutes, ...more });
  };

  const writeWindow = (window: Window) => {
    const { bound, rounds, given } = window;
    const { lag, from, to } = bound;
    const min = minutes(lag, from, to, 'min', lag.from.edge);
    let before = from;
    let edge = lag.from.edge;
    let round: readonly StepInstance[] = [];
    let least = min;
    let most = minutes(lag, from, to, 'max', edge);
    for (const { instances } of rounds) {
      chain(before, edge, instances);
      const optional = isOptional(instances);
      const remedy = instances.map((instance) => written.get(instance)!.first);
      pushWindow(before, edge, round, window, least, optional && !given ? { max: Math.max(least, most), remedy } : {});
      before = instances.at(-1)!;
      round = instances;
      edge = 'end';
      const own = stated(before, to);
      // Repeating what the window began with begins the window again, its minimum included.
      least =
        own !== undefined ? minutes(own, before, to, 'min', 'end') : before.step.kind === from.step.kind ? min : 0;
      most = own?.max != null ? minutes(own, before, to, 'max', 'end') : minutes(lag, from, to, 'max', 'start');
    }
    pushWindow(before, edge, round, window, least, given ? {} : { max: Math.max(least, most) });
  };

  for (const { from, to } of work.order.links) push(from, 'end', to, 'start', 0);
  for (const { lag, from, to } of work.order.bounds) {
    if (lag.max !== null) continue;
    push(from, lag.from.edge, to, lag.to.edge, minutes(lag, from, to, 'min', lag.from.edge), guards(lag));
  }
  for (const window of work.windows) writeWindow(window);
  writeSameCrew(car, work, draft);
}

function guards(lag: RecipeLag): Pick<Lag, 'guards'> {
  if (lag.min.by !== 'dataSheet') return {};
  if (lag.min.item === 'waterSafe') return { guards: 'water-safe' };
  return lag.min.item === 'releaseSafe' ? { guards: 'release-safe' } : {};
}

/**
 * Ensures that the same people do what the recipe links so, where somebody can. Held people are held only from work
 * still to come: what has been done already may lie in a shift that is over.
 */
function writeSameCrew(car: Car, work: JobWork, draft: JobWriting['draft']): void {
  const crews = (operation: number) =>
    draft.operations[operation]!.modes.map(({ uses }) =>
      uses
        .map(({ resource }) => resource)
        .filter((resource) => resource < car.frame.people.length)
        .sort((a, b) => a - b)
        .join(),
    );
  const link = (from: StepInstance, to: StepInstance, held: boolean) => {
    const first = work.written.get(from)!.last;
    const second = work.written.get(to)!.first;
    if (draft.operations[second]!.fixed?.by === 'fact') return;
    const before = new Set(crews(first));
    const isFact = draft.operations[first]!.fixed?.by === 'fact';
    if (crews(second).some((crew) => crew !== '' && before.has(crew))) {
      draft.sameCrew.push({ first, second, held: held && !isFact });
      return;
    }
    const text = `"${from.step.label}" and "${to.step.label}" are for the same people, and nobody can do both.`;
    car.notices.push({ kind: 'sameCrewImpossible', jobId: car.job.id, operation: to.key, text });
  };
  for (const { lag, from, to } of work.order.bounds) {
    if (lag.sameCrew === 'no') continue;
    const rounds = work.windows.find(({ bound }) => bound.lag === lag)?.rounds ?? [];
    const present = rounds
      .filter(({ presence }) => presence === 'present')
      .at(-1)
      ?.instances.at(-1);
    if (present === undefined) link(from, to, lag.sameCrew === 'held');
    const last = rounds.at(-1)?.instances.at(-1);
    if (last !== undefined) link(last, to, false);
  }
}
