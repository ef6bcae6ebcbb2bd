import { doubled } from './bounds.ts';

/** A conjunction of literals [half >= bound], all true, being written down: the reason of a bound, or a conflict. */
export class Explanation {
  half = new Int32Array(1024);
  bound = new Int32Array(1024);
  size = 0;

  push(h: number, b: number): void {
    if (this.size === this.half.length) {
      this.half = doubled(this.half);
      this.bound = doubled(this.bound);
    }
    this.half[this.size] = h;
    this.bound[this.size++] = b;
  }

  /** Adds a Boolean named by its half. */
  pushTrue(h: number): void {
    this.push(h, 1 - (h & 1));
  }
}
