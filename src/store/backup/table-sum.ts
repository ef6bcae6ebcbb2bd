import { createHash } from 'node:crypto';
import type { Row } from './contents.ts';

/** How many rows a table has, and a sum over them. */
export interface TableSum {
  readonly rows: number;
  readonly sum: string;
}

const WIDTH = 1n << 256n;

/**
 * Adds up a table: SHA-256 of each row, added as numbers modulo 2^256. The order of rows does not count, since each database
 * has its own; a row that is missing, doubled or different does.
 */
export class Summing {
  #rows = 0;
  #sum = 0n;

  add(row: Row): void {
    const hash = createHash('sha256').update(JSON.stringify(row)).digest('hex');
    this.#rows += 1;
    this.#sum = (this.#sum + BigInt(`0x${hash}`)) % WIDTH;
  }

  get total(): TableSum {
    return { rows: this.#rows, sum: this.#sum.toString(16).padStart(64, '0') };
  }
}
