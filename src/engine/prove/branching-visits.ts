import type { Brancher } from '../learn/search.ts';
import { EarliestStart } from './branching.ts';
import type { Model } from './model.ts';
import type { ModelledStay } from './stays.ts';

/**
 * Where no literal has been active in a problem with cars: stays first, as few as can be and each in the place named first,
 * then work by its earliest start.
 */
export class PlacesFirst implements Brancher {
  half = 0;
  bound = 0;
  private readonly model: Model;
  private readonly stays: readonly ModelledStay[];
  private readonly work: EarliestStart;

  constructor(model: Model) {
    this.model = model;
    this.stays = model.itineraries.flatMap(({ stays }) => stays);
    this.work = new EarliestStart(model);
  }

  choose(): boolean {
    const { lower } = this.model.solver.bounds;
    for (let k = 0; k < this.stays.length; k++) {
      const { present, places } = this.stays[k]!;
      if (this.isOpen(present)) return this.decide(present ^ 1);
      for (let p = 0; p < places.length; p++) {
        const { chosen } = places[p]!;
        if (this.isOpen(chosen)) return this.decide(chosen);
        if (lower[chosen]! >= 1 - (chosen & 1)) break;
      }
    }
    const chosen = this.work.choose();
    this.half = this.work.half;
    this.bound = this.work.bound;
    return chosen;
  }

  private isOpen(half: number): boolean {
    const { lower } = this.model.solver.bounds;
    return lower[half]! < 1 - (half & 1) && lower[half ^ 1]! < (half & 1);
  }

  private decide(half: number): true {
    this.half = half;
    this.bound = 1 - (half & 1);
    return true;
  }
}
