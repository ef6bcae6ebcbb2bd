import { type DoneWork, doneWork } from '../../trade/formulate/done-work.ts';
import { readFloor } from '../../trade/formulate/floor-record.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Recipe } from '../../trade/model/recipe.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import { commonNorms } from '../../trade/work-content/common-norms.ts';
import type { ShopDeps } from '../deps.ts';
import { loadVisits } from '../floor/load-cars.ts';
import { foundShop } from '../records/found.ts';
import { stretchOf, type Weeks } from './stretch.ts';
import { studentQuantile } from './student-t.ts';

/** Recorded against planned durations of some finished operations. */
export interface EstimateLine {
  readonly id: string;
  readonly name: string;
  /** Operations that were finished and measured. */
  readonly records: number;
  readonly plannedMinutes: number;
  readonly workedMinutes: number;
  /** Worked for each 100 planned minutes, typically: the geometric mean over the operations. */
  readonly percent: number;
  /** 95 % interval of it; null with one record. */
  readonly fromPercent: number | null;
  readonly toPercent: number | null;
  /** Five records or more, and 100 lies outside the interval: the norm should be changed. */
  readonly clear: boolean;
}

/** Where estimates are wrong. Each of the three lists has every record once, so that each adds up to `all`. */
export interface Estimates {
  readonly firstMonday: LocalDate;
  readonly from: Instant;
  readonly to: Instant;
  readonly kinds: readonly EstimateLine[];
  readonly recipes: readonly EstimateLine[];
  /** By whoever was at it longest. */
  readonly people: readonly EstimateLine[];
  readonly all: EstimateLine | null;
}

/** One measured operation, with what it is counted under. */
export interface MeasuredWork extends Pick<DoneWork, 'plannedMinutes' | 'workedMinutes'> {
  readonly id: string;
  readonly name: string;
}

const FEWEST = 5;

/** Recorded and planned durations of the operations begun in some weeks. @throws NotFound, Invalid (monday) */
export async function estimateErrors(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { readonly shopId: ShopId } & Weeks,
): Promise<Estimates> {
  const { shopId } = input;
  const { store } = deps;
  const now = deps.clock();
  const shop = await foundShop(store, shopId);
  const stretch = stretchOf(input, shop.timeZone);
  const technicians = new Map((await store.technicians.list(shopId)).map(({ value }) => [value.id, value]));
  const done: { work: DoneWork; recipe: Recipe; label: string }[] = [];
  const { from, to } = stretch;
  const which = { visiting: { from, to, now }, states: ['inShop', 'done'] } as const;
  for (const { job, recipe, events } of await loadVisits(store, shopId, which)) {
    const record = readFloor(events, now);
    for (const work of doneWork({ job, recipe, record }, shop, technicians, commonNorms).work) {
      if (work.startedAt < stretch.from || work.startedAt >= stretch.to || work.workedMinutes <= 0) continue;
      const label = recipe.steps.find((step) => step.kind === work.kind)?.label ?? work.kind;
      done.push({ work, recipe, label });
    }
  }
  const by = (of: (each: (typeof done)[number]) => { id: string; name: string }) =>
    linesOf(done.map((each) => ({ ...each.work, ...of(each) })));
  return {
    ...stretch,
    kinds: by(({ work, label }) => ({ id: work.kind, name: label })),
    recipes: by(({ recipe }) => ({ id: recipe.id, name: recipe.name })),
    people: by(({ work }) => {
      const [first] = work.people;
      return { id: first ?? '', name: (first && technicians.get(first)?.name) ?? '' };
    }),
    all: by(() => ({ id: 'all', name: 'all' }))[0] ?? null,
  };
}

/** One line for each id, the farthest from the plan first. */
export function linesOf(work: readonly MeasuredWork[]): EstimateLine[] {
  const groups = new Map<string, MeasuredWork[]>();
  for (const each of work) groups.set(each.id, [...(groups.get(each.id) ?? []), each]);
  return [...groups.values()].map(lineOf).sort((a, b) => distance(b) - distance(a) || b.records - a.records);
}

/** Twice as long is as far from the plan as half as long. */
const distance = ({ percent }: EstimateLine) => Math.abs(Math.log(percent / 100));

/** Durations err by factors, so that means and intervals are taken of logarithms (Student's t). */
function lineOf(work: readonly MeasuredWork[]): EstimateLine {
  const { id, name } = work[0]!;
  const n = work.length;
  const logs = work.map(({ plannedMinutes, workedMinutes }) => Math.log(workedMinutes / Math.max(1, plannedMinutes)));
  const mean = logs.reduce((sum, each) => sum + each, 0) / n;
  const squares = logs.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  const half = n < 2 ? null : studentQuantile(0.975, n - 1) * Math.sqrt(squares / (n - 1) / n);
  const percent = (log: number) => 100 * Math.exp(log);
  return {
    id,
    name,
    records: n,
    plannedMinutes: work.reduce((sum, each) => sum + each.plannedMinutes, 0),
    workedMinutes: work.reduce((sum, each) => sum + each.workedMinutes, 0),
    percent: percent(mean),
    fromPercent: half === null ? null : percent(mean - half),
    toPercent: half === null ? null : percent(mean + half),
    clear: half !== null && n >= FEWEST && Math.abs(mean) > half,
  };
}
