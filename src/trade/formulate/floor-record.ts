import type { PlaceId, TechnicianId } from '../model/ids.ts';
import type { FloorEvent } from '../model/job.ts';
import type { Instant } from '../model/time.ts';

/** A stretch of work without interruption; `to` is null while it goes on. */
export interface RecordedPiece {
  readonly from: Instant;
  readonly to: Instant | null;
  readonly by: readonly TechnicianId[];
}

export interface WorkRecord {
  readonly state: 'underWay' | 'paused' | 'finished' | 'abandoned';
  /** At least one, unless it was given up before it began. */
  readonly pieces: readonly RecordedPiece[];
  /** Who is to go on with paused work, when it was handed over. */
  readonly handedTo: readonly TechnicianId[] | null;
}

/** A place the car has come to. */
export interface Visit {
  readonly placeId: PlaceId;
  readonly from: Instant;
}

/** What has happened to one car, read from its events. */
export interface FloorRecord {
  /** By operation key; the remainder of an interrupted operation is recorded under the operation's own key. */
  readonly work: ReadonlyMap<string, WorkRecord>;
  readonly visits: readonly Visit[];
  readonly failures: readonly { readonly at: Instant; readonly reworkMinutes: number }[];
  readonly pickedUp: boolean;
}

/** The key an operation's events are kept under: a remainder belongs to what it is the rest of. */
export function recordKey(operation: string): string {
  return operation.replace(/\.rest$/, '');
}

interface Open {
  state: WorkRecord['state'];
  pieces: { from: Instant; to: Instant | null; by: readonly TechnicianId[] }[];
  handedTo: readonly TechnicianId[] | null;
}

/**
 * Replays the events of one job in the order they happened, each once. An event from a clock that is ahead
 * counts as now. What cannot follow from what went before (a second start, an end without a start) is read as the nearest
 * thing that can have happened, for a fact is never refused.
 */
export function readFloor(events: readonly FloorEvent[], now: Instant): FloorRecord {
  const work = new Map<string, Open>();
  const visits: Visit[] = [];
  const failures: { at: Instant; reworkMinutes: number }[] = [];
  const seen = new Set<string>();
  let pickedUp = false;
  const inOrder = [...events].sort(earlierFirst);
  for (const { clientId, occurredAt, fact } of inOrder) {
    if (seen.has(clientId)) continue;
    seen.add(clientId);
    const at = Math.min(occurredAt, now) as Instant;
    switch (fact.kind) {
      case 'arrived':
      case 'moved':
        if (visits.at(-1)?.placeId !== fact.placeId) visits.push({ placeId: fact.placeId, from: at });
        break;
      case 'failedFinalInspection':
        failures.push({ at, reworkMinutes: fact.reworkMinutes });
        break;
      case 'pickedUp':
        pickedUp = true;
        break;
      case 'noted':
        break;
      default:
        recordWork(work, recordKey(fact.operation), at, fact);
    }
  }
  return { work, visits, failures, pickedUp };
}

function earlierFirst(a: FloorEvent, b: FloorEvent): number {
  return a.occurredAt - b.occurredAt || a.sequence - b.sequence;
}

type WorkFact = Extract<FloorEvent['fact'], { operation: string }> & { kind: Exclude<string, 'noted'> };

function recordWork(work: Map<string, Open>, key: string, at: Instant, fact: WorkFact): void {
  const known = work.get(key);
  const open: Open = known ?? { state: 'paused', pieces: [], handedTo: null };
  if (known === undefined) work.set(key, open);
  const lastPeople = open.handedTo ?? open.pieces.at(-1)?.by ?? [];
  const closed = open.state === 'finished' || open.state === 'abandoned';
  switch (fact.kind) {
    case 'started':
      if (open.state === 'paused') begin(open, at, fact.by.length > 0 ? fact.by : lastPeople);
      break;
    case 'resumed':
      if (open.state === 'paused') begin(open, at, lastPeople);
      break;
    case 'interrupted':
      if (!closed) close(open, at, 'paused');
      break;
    case 'handedOver':
      if (open.state === 'underWay') {
        close(open, at, 'paused');
        begin(open, at, fact.to);
      } else if (!closed) open.handedTo = fact.to;
      break;
    case 'finished':
      if (closed) break;
      if (open.pieces.length === 0) open.pieces.push({ from: at, to: at, by: [] });
      else close(open, at, 'finished');
      open.state = 'finished';
      break;
    case 'abandoned':
      if (!closed) close(open, at, 'abandoned');
      break;
  }
}

function begin(open: Open, at: Instant, by: readonly TechnicianId[]): void {
  open.pieces.push({ from: at, to: null, by });
  open.state = 'underWay';
  open.handedTo = null;
}

function close(open: Open, at: Instant, state: WorkRecord['state']): void {
  const last = open.pieces.at(-1);
  if (last !== undefined && last.to === null) last.to = at;
  open.state = state;
}
