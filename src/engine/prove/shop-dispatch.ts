import type { MachineShop } from './machine-shop.ts';
import type { ShopSequences } from './shop-sequences.ts';

/** Puts the operations one by one, each time the one that can end first on its best machine. */
export function dispatch(sequences: ShopSequences): void {
  const { shop, chosen } = sequences;
  const n = shop.operations;
  const order: number[] = [];
  const waiting = new Int32Array(n);
  const ready = Int32Array.from(shop.release);
  const free = new Int32Array(shop.machines);
  for (let o = 0; o < n; o++) waiting[o] = shop.firstBefore[o + 1]! - shop.firstBefore[o]!;
  const remaining = remainingWork(shop);
  for (let k = 0; k < n; k++) {
    let best = -1;
    let bestMode = -1;
    let bestEnd = 0;
    for (let o = 0; o < n; o++) {
      if (waiting[o] !== 0) continue;
      for (let m = shop.firstMode[o]!; m < shop.firstMode[o + 1]!; m++) {
        const start = Math.max(ready[o]!, free[shop.machine[m]!]!);
        const end = start + shop.minutes[m]! - remaining[o]! / 4;
        if (best < 0 || end < bestEnd) {
          best = o;
          bestMode = m;
          bestEnd = end;
        }
      }
    }
    const m = shop.machine[bestMode]!;
    const end = Math.max(ready[best]!, free[m]!) + shop.minutes[bestMode]!;
    waiting[best] = -1;
    chosen[best] = bestMode;
    order.push(best);
    free[m] = end;
    for (let a = shop.firstAfter[best]!; a < shop.firstAfter[best + 1]!; a++) {
      const next = shop.after[a]!;
      waiting[next]!--;
      ready[next] = Math.max(ready[next]!, end + shop.afterGap[a]!);
    }
  }
  sequences.sequence(order);
}

/** Least work from each operation to the end of what follows it. */
function remainingWork(shop: MachineShop): Int32Array {
  const n = shop.operations;
  const left = new Int32Array(n);
  const open = new Int32Array(n);
  const stack: number[] = [];
  for (let o = 0; o < n; o++) {
    open[o] = shop.firstAfter[o + 1]! - shop.firstAfter[o]!;
    if (open[o] === 0) stack.push(o);
  }
  while (stack.length > 0) {
    const o = stack.pop()!;
    let least = shop.minutes[shop.firstMode[o]!]!;
    for (let m = shop.firstMode[o]!; m < shop.firstMode[o + 1]!; m++) least = Math.min(least, shop.minutes[m]!);
    left[o]! += least;
    for (let a = shop.firstBefore[o]!; a < shop.firstBefore[o + 1]!; a++) {
      const before = shop.before[a]!;
      left[before] = Math.max(left[before]!, left[o]! + shop.beforeGap[a]!);
      if (--open[before]! === 0) stack.push(before);
    }
  }
  return left;
}
