import { BudgetWindows } from '../calendar/budget-windows.ts';
import { ContentNumbers } from '../calendar/content-numbers.ts';
import { IntervalSet } from '../calendar/interval-set.ts';
import { WorkCalendar } from '../calendar/work-calendar.ts';
import type { Interval, Mode, Problem } from '../problem/problem.ts';
import { compileMode } from './compile-mode.ts';
import type { ModeModel } from './job-model.ts';

/** What a span labelled one way must keep clear of, and how long the air settles either side. */
export interface AirRule {
  /** Row of spans whose beginning is still planned. */
  readonly planned: number;
  /** Row of spans that have begun: these judge nobody who has begun as well. */
  readonly begun: number;
  /** Minutes after the other's end before this span may begin. */
  readonly settleBefore: number;
  /** Minutes after this span's end before the other may begin. */
  readonly settleAfter: number;
}

export interface PlaceModel {
  readonly name: string;
  readonly turnaround: number;
  readonly open: IntervalSet | null;
  readonly blockedBy: readonly number[];
  /** Whether it blocks any other place. */
  readonly blocks: boolean;
  readonly zone: number;
  /** What a minute here costs in the tier `standing`. */
  readonly standingCost: number;
  /** Rows of `Levels`: holds widened by turnarounds, closures and passages; bare holds; passages of other cars. */
  readonly busy: number;
  readonly cars: number;
  readonly passages: number;
}

export interface ResourceModel {
  readonly name: string;
  readonly capacity: number;
  readonly person: boolean;
  readonly open: IntervalSet | null;
  readonly overtime: IntervalSet | null;
}

/** What the modes of one list have to do with crews and places. */
export interface ModesOutline {
  /** By crew, the indices of its modes. */
  readonly byCrew: ReadonlyMap<number, readonly number[]>;
  /** The sets of places that some mode is bound to. */
  readonly masks: readonly Uint8Array[];
  /** Fewest elapsed minutes any of them can take. */
  readonly leastMinutes: number;
}

const ALWAYS = new WorkCalendar({ at: [0], rate: [1] });

/** Everything about a shop that does not depend on its jobs, compiled once. Row r of `Levels` is resource r. */
export class ShopModel {
  readonly problem: Problem;
  readonly horizon: number;
  readonly now: number;
  readonly resources: readonly ResourceModel[];
  readonly budgets: readonly BudgetWindows[];
  readonly counters: number;
  readonly places: readonly PlaceModel[];
  readonly rows: number;
  readonly #calendars: WorkCalendar[] = [];
  readonly #air: AirRule[][];
  readonly #airFrom: number;
  readonly #labels: number;
  readonly #intervalSets = new Map<readonly Interval[], IntervalSet>();
  readonly #modes = new Map<readonly Mode[], readonly ModeModel[]>();
  readonly #outlines = new Map<readonly ModeModel[], ModesOutline>();
  readonly #placeSets = new Map<readonly number[], Uint8Array>();
  readonly #placeSetsByContent = new Map<string, Uint8Array>();
  readonly #kinds = new Map<readonly number[], Map<string, readonly number[]>>();
  readonly #crews = new Map<string, number>();
  readonly #patterns = new Map<string, number>();
  readonly #numbers = new ContentNumbers();

  constructor(problem: Problem) {
    this.problem = problem;
    this.horizon = problem.horizon;
    this.now = problem.now;
    this.resources = problem.resources.map((resource) => ({
      name: resource.name,
      capacity: resource.capacity,
      person: resource.kind === 'person',
      open: resource.open ? new IntervalSet(resource.open) : null,
      overtime: resource.overtime && resource.overtime.length > 0 ? new IntervalSet(resource.overtime) : null,
    }));
    let counters = 0;
    this.budgets = problem.budgets.map((budget) => {
      const windows = new BudgetWindows(budget, counters);
      counters += budget.windows.length;
      return windows;
    });
    this.counters = counters;
    const resources = problem.resources.length;
    const places = problem.places.length;
    const blocking = new Set(problem.places.flatMap((place) => place.blockedBy));
    this.places = problem.places.map((place, p) => ({
      name: place.name,
      turnaround: place.turnaround,
      open: place.open ? new IntervalSet(place.open) : null,
      blockedBy: place.blockedBy,
      blocks: blocking.has(p),
      zone: place.zone ?? -1,
      standingCost: place.standingCost ?? 0,
      busy: resources + p,
      cars: resources + places + p,
      passages: resources + 2 * places + p,
    }));
    this.#airFrom = resources + 3 * places;
    this.#labels = problem.airLabels.length;
    this.rows = this.#airFrom + 2 * problem.zones.length * this.#labels;
    this.#air = Array.from({ length: problem.zones.length * this.#labels }, () => []);
    for (const rule of problem.airExclusions) {
      this.#rulesOf(rule.zone, rule.first).push({
        planned: this.airRow(rule.zone, rule.second, false),
        begun: this.airRow(rule.zone, rule.second, true),
        settleBefore: rule.settleAfterSecond,
        settleAfter: rule.settleAfterFirst,
      });
      this.#rulesOf(rule.zone, rule.second).push({
        planned: this.airRow(rule.zone, rule.first, false),
        begun: this.airRow(rule.zone, rule.first, true),
        settleBefore: rule.settleAfterFirst,
        settleAfter: rule.settleAfterSecond,
      });
    }
    this.adoptProgresses(problem);
  }

  /** Compiles the progress functions that `problem` has beyond those known already. */
  adoptProgresses(problem: Problem): void {
    for (let k = this.#calendars.length; k < problem.progresses.length; k++) {
      this.#calendars.push(new WorkCalendar(problem.progresses[k]!));
    }
  }

  calendar(progress: number | undefined): WorkCalendar {
    return progress === undefined ? ALWAYS : this.#calendars[progress]!;
  }

  airRow(zone: number, label: number, begun: boolean): number {
    return this.#airFrom + 2 * (zone * this.#labels + label) + (begun ? 1 : 0);
  }

  airRules(zone: number, label: number): readonly AirRule[] {
    return this.#rulesOf(zone, label);
  }

  #rulesOf(zone: number, label: number): AirRule[] {
    return this.#air[zone * this.#labels + label]!;
  }

  /** Compiled once for each array, so that equal windows of many operations may share one. */
  intervalSet(intervals: readonly Interval[]): IntervalSet {
    let set = this.#intervalSets.get(intervals);
    if (set === undefined) {
      set = new IntervalSet(intervals);
      this.#intervalSets.set(intervals, set);
    }
    return set;
  }

  /** Compiled once for each array: the same step of many cars has one list of modes. */
  modes(modes: readonly Mode[]): readonly ModeModel[] {
    let compiled = this.#modes.get(modes);
    if (compiled === undefined) {
      const list: ModeModel[] = [];
      for (const mode of modes) list.push(compileMode(this, mode));
      compiled = list;
      this.#modes.set(modes, compiled);
    }
    return compiled;
  }

  /** Made once for each list of modes. */
  outline(modes: readonly ModeModel[]): ModesOutline {
    let known = this.#outlines.get(modes);
    if (known === undefined) {
      known = outlineOf(modes);
      this.#outlines.set(modes, known);
    }
    return known;
  }

  /** By place, 1 where it is one of `places`. The same for equal places. */
  placeSet(places: readonly number[]): Uint8Array {
    let set = this.#placeSets.get(places);
    if (set === undefined) {
      const content = [...places].sort(byNumber).join();
      set = this.#placeSetsByContent.get(content);
      if (set === undefined) {
        set = new Uint8Array(this.places.length);
        for (const place of places) set[place] = 1;
        this.#placeSetsByContent.set(content, set);
      }
      this.#placeSets.set(places, set);
    }
    return set;
  }

  /**
   * Numbers the places of a stay by kind: those in which work that is bound to `masks` of places could go in exactly the same ways
   * share one. The air of the place counts only when asked for. Made once for each array of places.
   */
  kindsOf(places: readonly number[], masks: ReadonlySet<Uint8Array>, byAir: boolean): readonly number[] {
    let known = this.#kinds.get(places);
    if (known === undefined) {
      known = new Map();
      this.#kinds.set(places, known);
    }
    let asked = String(byAir);
    for (const mask of masks) asked += `/${this.#numbers.ofPlaces(mask)}`;
    let kinds = known.get(asked);
    if (kinds === undefined) {
      kinds = this.#numberByKind(places, masks, byAir);
      known.set(asked, kinds);
    }
    return kinds;
  }

  #numberByKind(places: readonly number[], masks: ReadonlySet<Uint8Array>, byAir: boolean): number[] {
    const numbers = new Map<string, number>();
    const kinds: number[] = [];
    for (const place of places) {
      const { zone, blockedBy } = this.places[place]!;
      let key = `${byAir ? zone : ''}/${blockedBy.join()}/`;
      for (const mask of masks) key += mask[place]!;
      const number = numbers.get(key) ?? numbers.size;
      numbers.set(key, number);
      kinds.push(number);
    }
    return kinds;
  }

  /** A number that is the same for modes that the hours, conditions and daily limits treat alike. */
  pattern(work: number, calendar: WorkCalendar, budget: BudgetWindows | null, allowed: IntervalSet | null): number {
    const rates = this.#numbers.ofCalendar(calendar);
    const limits = budget && this.#numbers.ofBudget(budget);
    const window = allowed && this.#numbers.ofIntervals(allowed);
    const key = `${work}/${rates}/${limits}/${window}`;
    let pattern = this.#patterns.get(key);
    if (pattern === undefined) {
      pattern = this.#patterns.size;
      this.#patterns.set(key, pattern);
    }
    return pattern;
  }

  /** How many patterns there are so far. */
  get patterns(): number {
    return this.#patterns.size;
  }

  /** A number for the set of persons among `resources`, the same for equal sets. */
  crew(resources: Int32Array): number {
    let persons = 0;
    let only = -1;
    for (const resource of resources) {
      if (!this.resources[resource]!.person) continue;
      persons++;
      only = resource;
    }
    if (persons < 2) return only + 1;
    const members: number[] = [];
    for (const resource of resources) {
      if (this.resources[resource]!.person && !members.includes(resource)) members.push(resource);
    }
    if (members.length < 2) return only + 1;
    const key = members.sort(byNumber).join();
    let crew = this.#crews.get(key);
    if (crew === undefined) {
      crew = 1 + this.resources.length + this.#crews.size;
      this.#crews.set(key, crew);
    }
    return crew;
  }
}

function byNumber(a: number, b: number): number {
  return a - b;
}

function outlineOf(modes: readonly ModeModel[]): ModesOutline {
  const byCrew = new Map<number, number[]>();
  const masks = new Set<Uint8Array>();
  let leastMinutes = Number.POSITIVE_INFINITY;
  for (let m = 0; m < modes.length; m++) {
    const mode = modes[m]!;
    const list = byCrew.get(mode.crew);
    if (list === undefined) byCrew.set(mode.crew, [m]);
    else list.push(m);
    if (mode.places !== null) masks.add(mode.places);
    leastMinutes = Math.min(leastMinutes, mode.leastMinutes);
  }
  return { byCrew, masks: [...masks], leastMinutes };
}
