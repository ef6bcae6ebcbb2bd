import { describe, expect, it } from 'vitest';
import { Recipe } from '../../../src/trade/model/recipe.ts';
import { recipeObjections } from '../../../src/trade/recipe/recipe-objections.ts';
import { demoRecipe } from '../../seed/demo-shop.ts';

/** The multi-layer recipe with a change; parsed again, so that only what the schema lets through is judged. */
function objections(change: (recipe: ReturnType<typeof copy>) => void): string[] {
  const recipe = copy();
  change(recipe);
  return recipeObjections(Recipe.parse(recipe)).map(({ field, text }) => `${field}: ${text}`);
}
// biome-ignore lint/suspicious/noExplicitAny: the changes below break the types on purpose
const copy = (): any => structuredClone(demoRecipe('multiLayerCeramic'));
type Part = { key: string; step: string; from: { step: string }; to: { step: string }; label: string };
const step = (recipe: { steps: Part[] }, key: string) => recipe.steps.find((one) => one.key === key)!;
const lag = (recipe: { lags: Part[] }, from: string, to: string) =>
  recipe.lags.find((one) => one.from.step === from && one.to.step === to)!;

describe('a recipe', () => {
  it('of the demo shop has no objection', () => {
    expect(objections(() => {})).toEqual([]);
  });

  it.each<[string, (recipe: ReturnType<typeof copy>) => void, RegExp]>([
    [
      'a step in a stay that is not there',
      (r) => Object.assign(step(r, 'mask'), { stay: 'nowhere' }),
      /^steps\.\d+\.stay: "nowhere" is not/,
    ],
    [
      'a step that goes back to an earlier stay',
      (r) => Object.assign(step(r, 'mask'), { stay: 'wash' }),
      /^steps\.\d+\.stay: "wash" comes before/,
    ],
    [
      'a step key used twice',
      (r) => Object.assign(step(r, 'wheels'), { key: 'intake' }),
      /^steps\.1\.key: "intake" is used twice/,
    ],
    [
      'certain work in a stay that may be left out',
      (r) => Object.assign(step(r, 'interior'), { presence: { when: 'always' } }),
      /optional, but Interior always/,
    ],
    [
      'work that nobody attends with a crew',
      (r) =>
        Object.assign(step(r, 'dryOut'), {
          crew: { size: 1, skill: null, level: 1, certified: false, leadPreferred: false },
        }),
      /crew\.size: .*nobody attends/,
    ],
    ['a layer of no coating', (r) => Object.assign(step(r, 'layer2'), { coatingId: null }), /coatingId: Second layer/],
    [
      'a least first piece of work that never pauses',
      (r) => Object.assign(step(r, 'topCoat'), { leastFirstPieceMinutes: 30 }),
      /leastFirstPieceMinutes: Top coat/,
    ],
    ['no handover at the end', (r) => r.steps.pop(), /the last step is the handover/],
    [
      'a lag from a step that is not there',
      (r) => Object.assign(lag(r, 'layer1', 'layer2').from, { step: 'layer9' }),
      /^lags\.\d+\.from\.step: there is no step "layer9"/,
    ],
    [
      'a lag that runs backward',
      (r) =>
        r.lags.push({
          from: { step: 'mask', edge: 'end' },
          to: { step: 'wheels', edge: 'start' },
          min: { by: 'minutes', minutes: 0 },
          max: null,
          remedy: [],
          sameCrew: 'no',
        }),
      /must run forward/,
    ],
    [
      'a window that can lapse with no remedy',
      (r) => Object.assign(lag(r, 'layer1', 'layer2'), { remedy: [] }),
      /remedy: is empty/,
    ],
    [
      'a remedy that is not there',
      (r) => Object.assign(lag(r, 'layer1', 'layer2'), { remedy: ['abrade1', 'wipe1', 'pray'] }),
      /there is no step "pray"/,
    ],
    [
      'a remedy that is not marked as one',
      (r) => Object.assign(step(r, 'rewipe'), { presence: { when: 'always' } }),
      /"rewipe" is not marked as a remedy/,
    ],
    [
      'a remedy no lag names',
      (r) => Object.assign(lag(r, 'panelWipe', 'layer1'), { remedy: [], max: null }),
      /is a remedy, but no lag names it/,
    ],
    [
      'a remedy before work that may already be done',
      (r) => {
        const steps = r.steps as Part[];
        const at = steps.findIndex((s) => s.key === 'rewipe');
        const [moved] = steps.splice(at, 1);
        steps.splice(at - 1, 0, moved!);
      },
      /directly before "layer1", but "solventFlash"/,
    ],
    [
      'a maximum below its minimum',
      (r) => Object.assign(lag(r, 'mineralSpray', 'mineralRinse'), { max: { by: 'minutes', minutes: 0 } }),
      /max: 0 min is below/,
    ],
    [
      'a lag on the data sheet of no coating',
      (r) => Object.assign(lag(r, 'panelWipe', 'layer1'), { min: { by: 'dataSheet', item: 'recoatMin' } }),
      /"panelWipe" names no coating/,
    ],
    [
      'a branch of a step that is not there',
      (r) => r.branches[0].alternatives.push(['oven']),
      /^branches\.0\.alternatives\.2\.0: .*no step "oven"/,
    ],
    [
      'a branch step that no branch names',
      (r) => {
        r.branches = [];
      },
      /is a branch's, but no branch names it/,
    ],
    [
      'coating with no span of open coating',
      (r) => {
        r.airSpans = [];
      },
      /^airSpans: open coating/,
    ],
    [
      'coating with nothing to keep it still',
      (r) => {
        r.stills = [];
      },
      /^stills: a coated car is not moved/,
    ],
    [
      'a wipe whose vapour is not on the air',
      (r) => {
        Object.assign(step(r, 'panelWipe'), { air: [] });
        r.airSpans = r.airSpans.filter((span: { label: string }) => span.label !== 'vapour');
      },
      /air: Panel wipe puts vapour on the air/,
    ],
    [
      'a lamp that is no source of ignition',
      (r) => Object.assign(step(r, 'lampCure'), { air: [] }),
      /puts ignition on the air/,
    ],
    [
      'correction before any inspection on clean paint',
      (r) => Object.assign(step(r, 'inspection'), { holdPoint: null }),
      /Compound needs the hold point cleanPaint/,
    ],
    [
      'inspection before all surfaces are decontaminated',
      (r) => Object.assign(step(r, 'clay'), { holdPoint: null }),
      /needs the hold point decontaminated/,
    ],
    [
      'a wipe before the whole car is finished',
      (r) => Object.assign(step(r, 'unmask'), { holdPoint: null }),
      /Panel wipe needs the hold point wholeCarFinished/,
    ],
    [
      'a handover without a final inspection',
      (r) => Object.assign(step(r, 'finalInspection'), { holdPoint: null }),
      /needs the hold point final/,
    ],
    [
      'polishing in a recipe that says it does not correct',
      (r) => {
        r.corrects = false;
      },
      /^corrects: is false/,
    ],
  ])('with %s is refused', (_, change, text) => {
    const found = objections(change);
    expect(
      found.some((one) => text.test(one)),
      found.join('\n'),
    ).toBe(true);
  });
});
