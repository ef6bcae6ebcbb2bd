import type { RecipeStep } from '../model/recipe.ts';

/** What is made once for each step and further question, and then remembered. */
export class OnceForEach<T> {
  readonly #known = new Map<RecipeStep, Map<string, T>>();

  /** What has been made; undefined when nothing has. */
  get(step: RecipeStep, question: string): T | undefined {
    return this.#known.get(step)?.get(question);
  }

  /** @returns what is remembered from now on. */
  remember(step: RecipeStep, question: string, made: T): T {
    let ofStep = this.#known.get(step);
    if (ofStep === undefined) {
      ofStep = new Map();
      this.#known.set(step, ofStep);
    }
    ofStep.set(question, made);
    return made;
  }
}
