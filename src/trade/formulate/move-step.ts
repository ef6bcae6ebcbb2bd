import type { RecipeStep } from '../model/recipe.ts';

/** Moving the car into its next stay, whichever that is: hands-on, by somebody who may drive, in one go. */
export const moveStep: RecipeStep = {
  key: 'move',
  kind: 'move',
  label: 'Move the car',
  stay: 'any',
  presence: { when: 'always' },
  attendance: { kind: 'handsOn' },
  crew: { size: 1, skill: 'driving', level: 1, certified: false, leadPreferred: false },
  equipment: [],
  duration: { by: 'minutes', minutes: 0 },
  coatingId: null,
  pausable: false,
  air: [],
  holdPoint: null,
};
