import type { Project } from './project.ts';

/**
 * Serial schedule generation (Kelley 1963): operations one by one, each as early or as late as precedence and resources
 * allow, over resource usage by minute.
 */
export class SerialSchedule {
  readonly start: Int32Array;
  private readonly project: Project;
  private readonly usage: Int32Array;

  constructor(project: Project) {
    this.project = project;
    this.start = new Int32Array(project.operations);
    this.usage = new Int32Array(project.capacity.length * (project.horizon + 1));
  }

  /** The end of all. */
  length(): number {
    const { start } = this;
    let end = 0;
    for (let o = 0; o < start.length; o++) end = Math.max(end, start[o]! + this.project.minutes[o]!);
    return end;
  }

  /** Each as early as it fits, in the order of the list. */
  forwards(list: Int32Array): void {
    const { project, start } = this;
    const { firstBefore, before, beforeGap, minutes, release } = project;
    this.usage.fill(0);
    for (let k = 0; k < list.length; k++) {
      const o = list[k]!;
      let t = release[o]!;
      for (let a = firstBefore[o]!; a < firstBefore[o + 1]!; a++) {
        const p = before[a]!;
        const end = start[p]! + minutes[p]! + beforeGap[a]!;
        if (end > t) t = end;
      }
      for (;;) {
        const clash = this.clash(o, t, true);
        if (clash < 0) break;
        t = clash + 1;
      }
      start[o] = t;
      this.hold(o, t);
    }
  }

  /** Each as late as it fits before `end`, those that end last first. */
  backwards(list: Int32Array, end: number): void {
    const { project, start } = this;
    const { firstAfter, after, afterGap, minutes } = project;
    this.usage.fill(0);
    for (let k = 0; k < list.length; k++) {
      const o = list[k]!;
      let t = end - minutes[o]!;
      for (let a = firstAfter[o]!; a < firstAfter[o + 1]!; a++) {
        const latest = start[after[a]!]! - minutes[o]! - afterGap[a]!;
        if (latest < t) t = latest;
      }
      for (;;) {
        const clash = this.clash(o, t, false);
        if (clash < 0) break;
        t = clash - minutes[o]!;
      }
      start[o] = t;
      this.hold(o, t);
    }
  }

  /** The last minute (the first, when going backwards) at which the operation does not fit, or -1. */
  private clash(o: number, t: number, last: boolean): number {
    const { firstDemand, demandOn, demand, capacity, minutes, horizon } = this.project;
    const { usage } = this;
    let found = -1;
    for (let d = firstDemand[o]!; d < firstDemand[o + 1]!; d++) {
      const r = demandOn[d]!;
      const free = capacity[r]! - demand[d]!;
      const base = r * (horizon + 1);
      if (last) {
        for (let m = t + minutes[o]! - 1; m >= t && m > found; m--) {
          if (usage[base + m]! > free) {
            found = m;
            break;
          }
        }
      } else {
        for (let m = t; m < t + minutes[o]! && (found < 0 || m < found); m++) {
          if (usage[base + m]! > free) {
            found = m;
            break;
          }
        }
      }
    }
    return found;
  }

  private hold(o: number, t: number): void {
    const { firstDemand, demandOn, demand, minutes, horizon } = this.project;
    for (let d = firstDemand[o]!; d < firstDemand[o + 1]!; d++) {
      const base = demandOn[d]! * (horizon + 1);
      for (let m = t; m < t + minutes[o]!; m++) this.usage[base + m]! += demand[d]!;
    }
  }
}
