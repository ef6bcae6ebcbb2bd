import type { Recipe } from '../model/recipe.ts';
import { type CrewNeed, crewNeed, eligible } from './crews.ts';
import type { Frame } from './frame.ts';

/**
 * What else a step's people must be able to do, because the recipe wants the same people on other steps. Where nobody can
 * do all of it, or the crews differ in size, each step keeps to its own need.
 */
export function sharedNeeds(recipe: Recipe, frame: Frame): ReadonlyMap<string, readonly CrewNeed[]> {
  const groupOf = new Map<string, Set<string>>();
  for (const { from, to, remedy, sameCrew } of recipe.lags) {
    if (sameCrew === 'no') continue;
    const keys = [from.step, to.step, ...remedy.slice(-1)];
    const group = new Set(keys.flatMap((key) => [...(groupOf.get(key) ?? [key])]));
    for (const key of group) groupOf.set(key, group);
  }
  const needs = new Map<string, readonly CrewNeed[]>();
  for (const [key, group] of groupOf) {
    const steps = recipe.steps.filter((step) => group.has(step.key) && step.attendance.kind !== 'unattended');
    const own = steps.find((step) => step.key === key);
    if (own === undefined) continue;
    const all = steps.map(crewNeed).filter((need) => need.size === own.crew.size);
    const able = all.reduce((people, need) => {
      const can = new Set(eligible(frame, need, frame.now));
      return people.filter((person) => can.has(person));
    }, frame.people);
    if (able.length >= own.crew.size) needs.set(key, all);
  }
  return needs;
}
