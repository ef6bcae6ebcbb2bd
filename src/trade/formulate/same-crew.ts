import type { Recipe, RecipeStep } from '../model/recipe.ts';
import { type CrewNeed, crewNeed, eligibleForAll } from './crews.ts';
import type { Frame } from './frame.ts';

/**
 * What else a step's people must be able to do, because the recipe wants the same people on other steps. Where nobody can
 * do all of it, or the crews differ in size, each step keeps to its own need.
 */
export function sharedNeeds(recipe: Recipe, frame: Frame): ReadonlyMap<string, readonly CrewNeed[]> {
  const groupOf = new Map<string, Set<string>>();
  for (const { from, to, remedy, sameCrew } of recipe.lags) {
    if (sameCrew !== 'no') putTogether([from.step, to.step, ...remedy.slice(-1)], groupOf);
  }
  const needs = new Map<string, readonly CrewNeed[]>();
  for (const [key, group] of groupOf) {
    const size = sizeOf(key, recipe);
    if (size === undefined) continue;
    const shared = needsOf(group, recipe, size);
    if (eligibleForAll(frame, shared, frame.now).length >= size) needs.set(key, shared);
  }
  return needs;
}

/** Steps, and whatever each of them is together with already, become one group. */
function putTogether(keys: readonly string[], groupOf: Map<string, Set<string>>): void {
  const group = new Set<string>();
  for (const key of keys) for (const one of groupOf.get(key) ?? [key]) group.add(one);
  for (const key of group) groupOf.set(key, group);
}

/** How many do a step; undefined when nobody does. */
function sizeOf(key: string, { steps }: Recipe): number | undefined {
  for (const step of steps) if (step.key === key) return isAttended(step) ? step.crew.size : undefined;
  return undefined;
}

/** What those steps of a group ask for that are done by crews of a size. */
function needsOf(group: ReadonlySet<string>, { steps }: Recipe, size: number): CrewNeed[] {
  const needs: CrewNeed[] = [];
  for (const step of steps) {
    if (group.has(step.key) && isAttended(step) && step.crew.size === size) needs.push(crewNeed(step));
  }
  return needs;
}

function isAttended({ attendance }: RecipeStep): boolean {
  return attendance.kind !== 'unattended';
}
