import { measure } from '../calendar/intervals.ts';
import { addDays, localDate } from '../calendar/local-instant.ts';
import { openHours } from '../calendar/open-hours.ts';
import type { OperationKey, TechnicianId } from '../model/ids.ts';
import type { Job } from '../model/job.ts';
import type { Technician } from '../model/people.ts';
import type { Recipe, WorkKind } from '../model/recipe.ts';
import type { Shop } from '../model/shop.ts';
import type { Instant } from '../model/time.ts';
import type { WorkFacts } from '../work-content/work-facts.ts';
import type { WorkNorms } from '../work-content/work-norms.ts';
import { plannedFacts } from './car.ts';
import type { FloorRecord, RecordedPiece, WorkRecord } from './floor-record.ts';
import { itemsOf } from './items.ts';

/** One finished piece of somebody's work, beside what its work content had said. */
export interface DoneWork {
  readonly operation: OperationKey;
  readonly kind: WorkKind;
  /** Whoever was at it longest first. */
  readonly people: readonly TechnicianId[];
  readonly startedAt: Instant;
  /** Work content at the pace of whoever did it. */
  readonly plannedMinutes: number;
  /** Between start and finish, pauses and closed hours left out. */
  readonly workedMinutes: number;
}

const MINUTE = 60_000;
/** A piece no longer than this was worked in one go. */
const IN_ONE_GO_MINUTES = 60;

/** The finished work of one car, with the facts it was reckoned from. Work that nobody did and times of data sheets are left out. */
export function doneWork(
  { job, recipe, record }: { readonly job: Job; readonly recipe: Recipe; readonly record: FloorRecord },
  shop: Shop,
  technicians: ReadonlyMap<TechnicianId, Technician>,
  norms: WorkNorms,
): { readonly facts: WorkFacts; readonly work: readonly DoneWork[] } {
  const facts = plannedFacts(job, shop, norms);
  const work: DoneWork[] = [];
  for (const item of itemsOf({ job, recipe, record, facts, frame: { norms, book: {} } })) {
    if (item.kind === 'branch') continue;
    const { step, key, breakdown, record: done } = item.instance;
    const first = done?.pieces[0];
    if (done?.state !== 'finished' || first === undefined || step.duration.by === 'dataSheet') continue;
    const people = byMinutes(done);
    if (people.length === 0 || step.attendance.kind === 'unattended') continue;
    const paced = step.duration.by === 'workContent' && norms.kinds[step.kind].paced;
    const pace = slowestPace(people, technicians);
    work.push({
      operation: key,
      kind: step.kind,
      people,
      startedAt: first.from,
      plannedMinutes: paced ? Math.ceil((breakdown.minutes * 100) / pace) : breakdown.minutes,
      workedMinutes: workedMinutes(done, step.pausable, shop, technicians),
    });
  }
  return { facts, work };
}

function byMinutes({ pieces }: WorkRecord): TechnicianId[] {
  const minutes = new Map<TechnicianId, number>();
  for (const { from, to, by } of pieces) {
    for (const id of by) minutes.set(id, (minutes.get(id) ?? 0) + ((to ?? from) - from));
  }
  const people: TechnicianId[] = [];
  for (const [id] of [...minutes].sort(longerFirst)) people.push(id);
  return people;
}

function longerFirst([, a]: readonly [TechnicianId, number], [, b]: readonly [TechnicianId, number]): number {
  return b - a;
}

function slowestPace(people: readonly TechnicianId[], technicians: ReadonlyMap<TechnicianId, Technician>): number {
  let pace = 1000;
  for (const id of people) pace = Math.min(pace, technicians.get(id)?.pacePercent ?? 100);
  return pace;
}

function workedMinutes(
  { pieces }: WorkRecord,
  pausable: boolean,
  shop: Shop,
  technicians: ReadonlyMap<TechnicianId, Technician>,
): number {
  let minutes = 0;
  for (const piece of pieces) minutes += minutesOf(piece, pausable, shop, technicians);
  return minutes;
}

/** Work that may pause and was left running over a night counts while whoever did it was in. */
function minutesOf(
  { from, to, by }: RecordedPiece,
  pausable: boolean,
  shop: Shop,
  technicians: ReadonlyMap<TechnicianId, Technician>,
): number {
  if (to === null) return 0;
  const elapsed = Math.round((to - from) / MINUTE);
  const first = by[0] === undefined ? undefined : technicians.get(by[0]);
  if (!pausable || elapsed <= IN_ONE_GO_MINUTES || first === undefined) return elapsed;
  const zone = shop.timeZone;
  const days = { zone, from: localDate(from, zone), to: addDays(localDate(to, zone), 1) };
  const inHours = measure(openHours(days, first.shifts, first.exceptions).open, from, to);
  return inHours > 0 ? Math.round(inHours / MINUTE) : elapsed;
}
