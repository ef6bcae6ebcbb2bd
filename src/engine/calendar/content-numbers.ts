import type { BudgetWindows } from './budget-windows.ts';
import type { IntervalSet } from './interval-set.ts';
import type { WorkCalendar } from './work-calendar.ts';

/** Gives things a number that is the same for those of equal content, which is read once a thing. */
export class ContentNumbers {
  readonly #known = new Map<object, number>();
  readonly #contents = new Map<string, number>();

  ofCalendar(calendar: WorkCalendar): number {
    return this.known(calendar) ?? this.add(calendar, `${calendar.at.join()}/${calendar.rate.join()}`);
  }

  ofBudget(budget: BudgetWindows): number {
    return this.known(budget) ?? this.add(budget, `${budget.from.join()}/${budget.to.join()}/${budget.limit}`);
  }

  ofIntervals(set: IntervalSet): number {
    return this.known(set) ?? this.add(set, `${set.from.join()}/${set.to.join()}`);
  }

  ofPlaces(mask: Uint8Array): number {
    return this.known(mask) ?? this.add(mask, `places ${mask.join()}`);
  }

  /** The number of a thing that has one already. */
  known(thing: object): number | undefined {
    return this.#known.get(thing);
  }

  /** Numbers a thing by its content, in words that tell it from things of another kind. */
  add(thing: object, content: string): number {
    const number = this.#contents.get(content) ?? this.#contents.size;
    this.#contents.set(content, number);
    this.#known.set(thing, number);
    return number;
  }
}
