import type { ModeModel, OperationModel } from '../construct/job-model.ts';
import type { ShopModel } from '../construct/shop-model.ts';

/**
 * Of the modes of an operation, one for each that differs in an otherwise empty shop: two technicians with the same hours and
 * pace are one. Kept for each list of modes, which many operations share.
 */
export class DistinctModes {
  readonly #shop: ShopModel;
  readonly #lists = new Map<readonly ModeModel[], readonly ModeModel[]>();
  readonly #numbers = new Map<string, number>();
  readonly #known = new Map<object, number>();

  constructor(shop: ShopModel) {
    this.#shop = shop;
  }

  of(operation: OperationModel): readonly ModeModel[] {
    let list = this.#lists.get(operation.modes);
    if (list === undefined) {
      const byKey = new Map<string, ModeModel>();
      for (const mode of operation.modes) {
        const key = this.#keyOf(mode);
        if (!byKey.has(key)) byKey.set(key, mode);
      }
      list = [...byKey.values()];
      this.#lists.set(operation.modes, list);
    }
    return list;
  }

  #keyOf(mode: ModeModel): string {
    const { resources } = this.#shop;
    const uses = Array.from(mode.resources, (row, u) => {
      const resource = resources[row]!;
      return `${this.#hoursOf(row)}x${mode.amounts[u]! / resource.capacity}`;
    });
    const { calendar, budget, allowed } = mode;
    const rates = this.#numberOf(calendar, () => `${calendar.at.join()}/${calendar.rate.join()}`);
    const limits = budget && this.#numberOf(budget, () => `${budget.from.join()}/${budget.to.join()}/${budget.limit}`);
    const window = allowed && this.#numberOf(allowed, () => `${allowed.from.join()}/${allowed.to.join()}`);
    return `${mode.work}|${rates}|${limits}|${window}|${uses.join()}`;
  }

  /** A number that is the same for resources which are there in the same hours, and taken by others at the same times. */
  #hoursOf(row: number): number {
    const { problem, resources } = this.#shop;
    return this.#numberOf(resources[row]!, () => {
      const open = problem.resources[row]!.open;
      const taken = problem.takenResources.filter((each) => each.resource === row);
      return `${open?.map(({ from, to }) => `${from}-${to}`).join()}/${JSON.stringify(taken.map(({ from, to, amount }) => [from, to, amount]))}/${resources[row]!.capacity}`;
    });
  }

  #numberOf(thing: object, describe: () => string): number {
    let number = this.#known.get(thing);
    if (number === undefined) {
      const text = describe();
      number = this.#numbers.get(text) ?? this.#numbers.size;
      this.#numbers.set(text, number);
      this.#known.set(thing, number);
    }
    return number;
  }
}
