import { NEVER } from '../calendar/never.ts';
import type { Book } from './book.ts';
import type { StageModel } from './job-model.ts';
import type { Label } from './label.ts';

/** The places a stay could take, with the first gap of each that is long enough. Answers are in arrays used again. */
export class CandidatePlaces {
  readonly order: number[] = [];
  readonly place: number[] = [];
  readonly from: number[] = [];
  readonly until: number[] = [];
  /** Places of one kind can stand in for one another; -1 outside the stay's own list. */
  readonly kind: number[] = [];
  /** The same, but for the air of the place. */
  readonly suit: number[] = [];

  /**
   * Orders `places` by when they come free for `label`; the place where the car is comes first. Of gaps that begin
   * together the tighter come first when several ways on are kept, the longer when only one is.
   */
  read(book: Book, label: Label, stage: StageModel, places: readonly number[], width: number): void {
    const { levels, shop } = book;
    this.order.length = 0;
    for (let c = 0; c < places.length; c++) {
      const { busy } = shop.places[places[c]!]!;
      const from = levels.nextRoom(busy, label.time, Math.max(1, stage.leastMinutes), 0);
      this.place[c] = places[c]!;
      const index = places === stage.places ? c : stage.places.indexOf(places[c]!);
      this.kind[c] = stage.kinds[index] ?? -1;
      this.suit[c] = stage.suits[index] ?? -1;
      this.from[c] = from;
      this.until[c] = from >= NEVER ? NEVER : levels.nextAbove(busy, from, 0);
      this.order.push(c);
    }
    const tightFirst = width === 1 ? -1 : 1;
    for (let n = 1; n < places.length; n++) {
      let at = n;
      while (at > 0 && this.#comesBefore(n, this.order[at - 1]!, label.place, tightFirst)) {
        this.order[at] = this.order[at - 1]!;
        at--;
      }
      this.order[at] = n;
    }
  }

  /** Of a later candidate `a` and an earlier one: whether it goes first. */
  #comesBefore(a: number, b: number, here: number, tightFirst: number): boolean {
    const stays = this.place[a] === here;
    if (stays !== (this.place[b] === here)) return stays;
    const later = this.from[a]! - this.from[b]!;
    return later === 0 ? tightFirst * (this.until[a]! - this.until[b]!) < 0 : later < 0;
  }

  /** Whether no gap of another place of its kind that begins at the same minute lasts longer. */
  isLongest(c: number): boolean {
    for (const d of this.order) {
      if (this.kind[d] === this.kind[c] && this.from[d] === this.from[c] && this.until[d]! > this.until[c]!)
        return false;
    }
    return true;
  }
}
