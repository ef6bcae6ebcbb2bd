import { addDays, localDate } from '../../../src/trade/calendar/local-instant.ts';
import { openHours } from '../../../src/trade/calendar/open-hours.ts';
import { hasSkill } from '../../../src/trade/model/has-skill.ts';
import type { TechnicianId } from '../../../src/trade/model/ids.ts';
import type { RecipeStep } from '../../../src/trade/model/recipe.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import type { BadDays } from './bad-days.ts';
import type { VirtualShop } from './virtual-shop.ts';

export interface Piece {
  readonly from: Instant;
  readonly to: Instant;
}

/** When people are in the shop. */
export class Hands {
  readonly #people: VirtualShop['data']['technicians'];
  readonly #hours: ReadonlyMap<TechnicianId, readonly { readonly from: number; readonly to: number }[]>;
  readonly #days: BadDays;

  constructor({ data }: VirtualShop, span: { from: Instant; to: Instant }, badDays: BadDays) {
    const { timeZone: zone } = data.shop;
    const days = { zone, from: localDate(span.from, zone), to: addDays(localDate(span.to, zone), 1) };
    this.#people = data.technicians;
    this.#hours = new Map(
      data.technicians.map((each) => [each.id, openHours(days, each.shifts, each.exceptions).open]),
    );
    this.#days = badDays;
  }

  isHere(person: TechnicianId, at: number): boolean {
    if (this.#days.isAway(person, at)) return false;
    return (this.#hours.get(person) ?? []).some(({ from, to }) => from <= at && at < to);
  }

  anybodyHere(at: number): boolean {
    return this.#people.some(({ id }) => this.isHere(id, at));
  }

  /** Who is here and may do a step of a recipe. */
  whoCan(step: RecipeStep, at: Instant): readonly TechnicianId[] {
    const { skill, level, certified } = step.crew;
    const can = this.#people.filter(
      (person) =>
        this.isHere(person.id, at) &&
        hasSkill(person, skill, level) &&
        (!certified || person.certificates.some(({ coatingId }) => coatingId === step.coatingId)),
    );
    return can.map(({ id }) => id);
  }

  /** Stretches in which somebody works off so many milliseconds from a moment on. */
  stretches(person: TechnicianId, since: Instant, milliseconds: number): readonly Piece[] {
    const pieces: Piece[] = [];
    let left = milliseconds;
    for (const { from, to } of this.#hours.get(person) ?? []) {
      const begin = Math.max(from, since);
      if (begin >= to || this.#days.isAway(person, begin)) continue;
      const end = Math.min(to, begin + left);
      pieces.push({ from: begin as Instant, to: end as Instant });
      left -= end - begin;
      if (left <= 0) break;
    }
    return pieces;
  }
}
