import type { Objection } from '../../problems/shop-problem.ts';
import { stepOf } from '../recipe-step.ts';
import { endedAt } from '../what-happened.ts';
import type { Situation } from './situation.ts';

/**
 * A window that has closed is not worked in: the wipe is stale, the recoat window over. The plan's own figure counts,
 * which follows what was recorded and the data sheet; a remedy that was done opens the window again.
 */
export function windowGate({ operation, planned, happened, at, recipe }: Situation): Objection[] {
  const own = planned.find((each) => each.operation === operation);
  if (own?.windowClosesAt === null || own?.windowClosesAt === undefined || at <= own.windowClosesAt) return [];
  const late = Math.ceil((at - own.windowClosesAt) / 60_000);
  const step = stepOf(recipe, operation);
  const lag = recipe.lags.find((each) => each.to.step === step?.key && each.max !== null);
  const remedies = recipe.steps.filter((each) => lag?.remedy.includes(each.key)).map((each) => each.label);
  const since = recipe.steps.find((each) => each.key === lag?.from.step)?.label ?? 'the step before';
  const redone =
    lag !== undefined && lag.remedy.length > 0 && lag.remedy.every((key) => doneSince(key, own.windowClosesAt!));
  if (redone) return [];
  const first = remedies.length > 0 ? ` First: ${remedies.join(', ')}.` : ' The lead decides.';
  return [
    { rule: 'window', field: 'operation', text: `The window after ${since} closed ${late} minutes ago.${first}` },
  ];

  function doneSince(key: string, after: number): boolean {
    return [...happened.work].some(
      ([each, work]) => each.split('.')[0] === key && work.state === 'finished' && (endedAt(work) ?? 0) > after,
    );
  }
}
