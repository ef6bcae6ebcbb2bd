import type { Schedule } from '../problem/solution.ts';
import type { IncumbentSource } from './incumbent-source.ts';
import type { Project } from './project.ts';
import type { SeededRandom } from './seeded-random.ts';
import { SerialSchedule } from './serial-schedule.ts';

const POPULATION = 100;
/** Schedules without improvement after which all lists but the best are made anew. */
const PATIENCE = 12_000;

/**
 * Genetic search over activity lists: each list is scheduled operation by operation as early as it fits, then shifted all
 * to the right and all to the left again, which often shortens it.
 *
 * References: Hartmann, Naval Research Logistics 45, 1998 (activity lists, two-point crossover); Valls, Ballestín and
 * Quintanilla, European Journal of Operational Research 165, 2005 (justification).
 */
export class ProjectGenetic implements IncumbentSource {
  makespan = Number.POSITIVE_INFINITY;
  work = 0;

  private readonly project: Project;
  private readonly random: SeededRandom;
  private readonly n: number;
  private readonly lists: Int32Array[] = [];
  private readonly makespans: number[] = [];
  /** A hash of each list's starts. */
  private readonly prints: number[] = [];
  private sinceBetter = 0;
  private readonly tail: Int32Array;
  private readonly serial: SerialSchedule;
  private readonly start: Int32Array;
  private readonly bestStart: Int32Array;
  private readonly child: Int32Array;
  private readonly taken: Uint8Array;
  private readonly key: Float64Array;
  private readonly open: Int32Array;

  constructor(project: Project, random: SeededRandom) {
    const n = project.operations;
    this.project = project;
    this.random = random;
    this.n = n;
    this.serial = new SerialSchedule(project);
    this.start = this.serial.start;
    this.bestStart = new Int32Array(n);
    this.child = new Int32Array(n);
    this.taken = new Uint8Array(n);
    this.key = new Float64Array(n);
    this.open = new Int32Array(n);
    this.tail = this.tails();
  }

  run(work: number, enough: number, stop: () => boolean): void {
    const until = this.work + work;
    for (let round = 1; this.work < until && this.makespan > enough; round++) {
      if ((round & 15) === 0 && stop()) return;
      if (this.sinceBetter > PATIENCE) this.renew();
      if (this.lists.length < POPULATION) this.addSample();
      else this.addChild();
    }
  }

  schedule(): Schedule {
    const { minutes } = this.project;
    return {
      operations: Array.from(this.bestStart, (start, o) => ({ start, end: start + minutes[o]!, mode: 0 })),
      stays: [],
    };
  }

  adopt(schedule: Schedule): void {
    for (let o = 0; o < this.n; o++) this.key[o] = schedule.operations[o]!.start;
    const list = this.listByKey();
    this.decode(list);
    this.admit();
  }

  /** Longest path from each operation's start to the end of all. */
  private tails(): Int32Array {
    const { project, n, open } = this;
    const tail = Int32Array.from(project.minutes);
    const stack: number[] = [];
    for (let o = 0; o < n; o++) {
      open[o] = project.firstAfter[o + 1]! - project.firstAfter[o]!;
      if (open[o] === 0) stack.push(o);
    }
    while (stack.length > 0) {
      const o = stack.pop()!;
      for (let a = project.firstBefore[o]!; a < project.firstBefore[o + 1]!; a++) {
        const before = project.before[a]!;
        const length = project.minutes[before]! + project.beforeGap[a]! + tail[o]!;
        if (length > tail[before]!) tail[before] = length;
        if (--open[before]! === 0) stack.push(before);
      }
    }
    return tail;
  }

  private renew(): void {
    this.sinceBetter = 0;
    this.lists.length = this.random.below(2);
    this.makespans.length = this.lists.length;
    this.prints.length = this.lists.length;
  }

  /** A list in which the longest paths go first, blurred at random. */
  private addSample(): void {
    const blur = this.makespan === Number.POSITIVE_INFINITY ? 0 : 0.8;
    for (let o = 0; o < this.n; o++) {
      this.key[o] = -this.tail[o]! * (1 - blur / 2 + (blur * this.random.below(1000)) / 1000);
    }
    const list = this.listByKey();
    this.decode(list);
    this.admit();
  }

  private addChild(): void {
    const mother = this.lists[Math.min(this.random.below(POPULATION), this.random.below(POPULATION))]!;
    const father = this.lists[this.random.below(POPULATION)]!;
    const { n, child, taken } = this;
    let from = this.random.below(n);
    let to = this.random.below(n);
    if (from > to) [from, to] = [to, from];
    taken.fill(0);
    let size = 0;
    for (; size < from; size++) this.append(mother[size]!, size);
    for (let k = 0; k < n && size < to; k++) if (taken[father[k]!] === 0) this.append(father[k]!, size++);
    for (let k = 0; k < n; k++) if (taken[mother[k]!] === 0) this.append(mother[k]!, size++);
    for (let k = 0; k + 1 < n; k++) {
      if (this.random.below(100) < 4 && !this.precedes(child[k]!, child[k + 1]!)) {
        const swapped = child[k]!;
        child[k] = child[k + 1]!;
        child[k + 1] = swapped;
      }
    }
    const list = child.slice();
    this.decode(list);
    this.admit();
  }

  private append(o: number, at: number): void {
    this.child[at] = o;
    this.taken[o] = 1;
  }

  private precedes(a: number, b: number): boolean {
    const { firstAfter, after } = this.project;
    for (let k = firstAfter[a]!; k < firstAfter[a + 1]!; k++) if (after[k] === b) return true;
    return false;
  }

  /** Operations by key, each after all that must come before it. */
  private listByKey(): Int32Array {
    const { project, n, key, open } = this;
    const list = new Int32Array(n);
    const ready: number[] = [];
    for (let o = 0; o < n; o++) {
      open[o] = project.firstBefore[o + 1]! - project.firstBefore[o]!;
      if (open[o] === 0) ready.push(o);
    }
    for (let k = 0; k < n; k++) {
      let best = 0;
      for (let r = 1; r < ready.length; r++) if (key[ready[r]!]! < key[ready[best]!]!) best = r;
      const o = ready[best]!;
      ready[best] = ready[ready.length - 1]!;
      ready.pop();
      list[k] = o;
      for (let a = project.firstAfter[o]!; a < project.firstAfter[o + 1]!; a++) {
        if (--open[project.after[a]!]! === 0) ready.push(project.after[a]!);
      }
    }
    return list;
  }

  /** Keeps the schedule just made, as a list by its starts, in place of a worse one. */
  private admit(): void {
    const makespan = this.serial.length();
    if (makespan < this.makespan) {
      this.makespan = makespan;
      this.bestStart.set(this.start);
      this.sinceBetter = 0;
    } else this.sinceBetter++;
    if (this.lists.length >= POPULATION && makespan > this.makespans[POPULATION - 1]!) return;
    // Equal schedules would crowd the others out.
    let print = 0;
    for (let o = 0; o < this.n; o++) print = (Math.imul(print, 31) + this.start[o]!) | 0;
    if (this.prints.includes(print)) return;
    for (let o = 0; o < this.n; o++) this.key[o] = this.start[o]!;
    let at = this.lists.length;
    while (at > 0 && this.makespans[at - 1]! >= makespan) at--;
    this.lists.splice(at, 0, this.listByKey());
    this.makespans.splice(at, 0, makespan);
    this.prints.splice(at, 0, print);
    if (this.lists.length > POPULATION) {
      this.lists.pop();
      this.makespans.pop();
      this.prints.pop();
    }
  }

  /** Schedules the list forwards, then justifies right and left. */
  private decode(list: Int32Array): void {
    this.serial.forwards(list);
    const end = this.serial.length();
    for (let o = 0; o < this.n; o++) this.key[o] = -(this.start[o]! + this.project.minutes[o]!);
    this.serial.backwards(byKey(list, this.key), end);
    for (let o = 0; o < this.n; o++) this.key[o] = this.start[o]!;
    this.serial.forwards(byKey(list, this.key));
    this.work += this.n * 8;
  }
}

/** The list's operations by key; equal keys keep the list's order, forwards or, for negative keys, backwards. */
function byKey(list: Int32Array, key: Float64Array): Int32Array {
  const place = new Int32Array(list.length);
  for (let k = 0; k < list.length; k++) place[list[k]!] = k;
  const backwards = list.length > 0 && key[list[list.length - 1]!]! < 0;
  return Int32Array.from(list).sort(
    (a, b) => key[a]! - key[b]! || (backwards ? place[b]! - place[a]! : place[a]! - place[b]!),
  );
}
