import type { Mode } from '../../engine/problem/problem.ts';
import type { RecipeStep } from '../model/recipe.ts';
import type { EquipmentPool } from './equipment-pools.ts';

/** Most ways to combine equipment that are looked at. */
const mostPoolChoices = 4;

/** Equipment pools a step can take in a zone: those fixed there, and those that go anywhere. */
export function poolChoices(
  pools: readonly EquipmentPool[],
  { equipment }: RecipeStep,
  zone: number | null,
): EquipmentPool[][] {
  let choices: EquipmentPool[][] = [[]];
  for (const { kind, count } of equipment) {
    const further: EquipmentPool[][] = [];
    for (const chosen of choices) {
      for (const pool of pools) {
        const fits = pool.kind === kind && pool.capacity >= count && (pool.zone === null || pool.zone === zone);
        if (fits && further.length < mostPoolChoices) further.push([...chosen, pool]);
      }
    }
    choices = further;
  }
  return choices;
}

export function isAnyFixed(pools: readonly EquipmentPool[]): boolean {
  for (const { zone } of pools) if (zone !== null) return true;
  return false;
}

/** What a step takes of the pools chosen for it. */
export function usesOf({ equipment }: RecipeStep, pools: readonly EquipmentPool[]): Mode['uses'] {
  const uses: { resource: number; amount: number }[] = [];
  for (let k = 0; k < pools.length; k++) uses.push({ resource: pools[k]!.resource, amount: equipment[k]!.count });
  return uses;
}
