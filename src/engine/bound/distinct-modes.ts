import { ContentNumbers } from '../calendar/content-numbers.ts';
import type { ModeModel, OperationModel } from '../construct/job-model.ts';
import type { ShopModel } from '../construct/shop-model.ts';

/**
 * Of the modes of an operation, one for each that differs in an otherwise empty shop: two technicians with the same hours and
 * pace are one. Kept for each list of modes, which many operations share.
 */
export class DistinctModes {
  readonly #shop: ShopModel;
  readonly #lists = new Map<readonly ModeModel[], readonly ModeModel[]>();
  readonly #numbers = new ContentNumbers();

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
    const { calendar, budget, allowed } = mode;
    const rates = this.#numbers.ofCalendar(calendar);
    const limits = budget && this.#numbers.ofBudget(budget);
    const window = allowed && this.#numbers.ofIntervals(allowed);
    let key = `${mode.work}|${rates}|${limits}|${window}`;
    for (let u = 0; u < mode.resources.length; u++) {
      const row = mode.resources[u]!;
      key += `|${this.#hoursOf(row)}x${mode.amounts[u]! / this.#shop.resources[row]!.capacity}`;
    }
    return key;
  }

  /** A number that is the same for resources which are there in the same hours, and taken by others at the same times. */
  #hoursOf(row: number): number {
    const resource = this.#shop.resources[row]!;
    return this.#numbers.known(resource) ?? this.#numbers.add(resource, this.#describeHours(row));
  }

  #describeHours(row: number): string {
    const { problem, resources } = this.#shop;
    const open = problem.resources[row]!.open;
    const taken = problem.takenResources.filter((each) => each.resource === row);
    return `${open?.map(({ from, to }) => `${from}-${to}`).join()}/${JSON.stringify(taken.map(({ from, to, amount }) => [from, to, amount]))}/${resources[row]!.capacity}`;
  }
}
