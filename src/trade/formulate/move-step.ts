import type { RecipeStep } from '../model/recipe.ts';

/** Moving the car into a stay: hands-on, by somebody who may drive, in one go. */
export function moveStep(stay: string): RecipeStep {
  return {
    key: 'move',
    kind: 'move',
    label: 'Move the car',
    stay,
    presence: { when: 'always' },
    attendance: { kind: 'handsOn' },
    crew: { size: 1, skill: 'driving', level: 1, certified: false, leadPreferred: false },
    equipment: [],
    duration: { by: 'workContent' },
    coatingId: null,
    pausable: false,
    air: [],
    holdPoint: null,
  };
}
