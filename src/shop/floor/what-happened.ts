import type { OperationKey, PlaceId, TechnicianId } from '../../trade/model/ids.ts';
import type { FloorEvent } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';

/** One operation as the floor told it. */
export interface OperationHistory {
  readonly state: 'underWay' | 'paused' | 'finished' | 'abandoned';
  readonly startedAt: Instant;
  /** When it was finished or abandoned. */
  readonly endedAt: Instant | null;
  /** Stretches of work; the last one is open while it is under way. */
  readonly pieces: readonly { readonly from: Instant; readonly to: Instant | null }[];
  /** Who does it now, or did it last. */
  readonly by: readonly TechnicianId[];
}

/** One car's visit as the floor told it. */
export interface Happened {
  readonly operations: ReadonlyMap<OperationKey, OperationHistory>;
  readonly stays: readonly { readonly placeId: PlaceId; readonly from: Instant; readonly to: Instant | null }[];
  readonly arrivedAt: Instant | null;
  readonly pickedUpAt: Instant | null;
  /** Facts that do not fit what was known before them, in words. */
  readonly oddities: readonly string[];
}

interface Open {
  state: OperationHistory['state'];
  startedAt: Instant;
  endedAt: Instant | null;
  pieces: { from: Instant; to: Instant | null }[];
  by: readonly TechnicianId[];
}

/**
 * Reads a job's facts in the order in which they occurred, whatever the order in which they were told, as far as
 * `until`. Every fact counts: one that does not fit is taken at its word and named in `oddities`.
 */
export function whatHappened(events: readonly FloorEvent[], until: Instant): Happened {
  const operations = new Map<OperationKey, Open>();
  const stays: { placeId: PlaceId; from: Instant; to: Instant | null }[] = [];
  const oddities: string[] = [];
  let arrivedAt: Instant | null = null;
  let pickedUpAt: Instant | null = null;

  const begun = (key: OperationKey, at: Instant, what: string): Open => {
    const known = operations.get(key);
    if (known !== undefined) return known;
    oddities.push(`${key} was ${what}, and nobody told that it was started.`);
    const assumed: Open = { state: 'underWay', startedAt: at, endedAt: null, pieces: [{ from: at, to: null }], by: [] };
    operations.set(key, assumed);
    return assumed;
  };
  const closePiece = (operation: Open, at: Instant) => {
    const last = operation.pieces.at(-1);
    if (last !== undefined && last.to === null) last.to = at;
  };
  const standAt = (placeId: PlaceId, at: Instant) => {
    const last = stays.at(-1);
    if (last !== undefined && last.to === null) last.to = at;
    stays.push({ placeId, from: at, to: null });
  };

  const inOrder = events
    .filter((event) => event.occurredAt <= until)
    .sort((a, b) => a.occurredAt - b.occurredAt || a.sequence - b.sequence);
  for (const { fact, occurredAt: at } of inOrder) {
    switch (fact.kind) {
      case 'arrived':
        if (arrivedAt !== null) oddities.push('The car was told to arrive twice.');
        arrivedAt ??= at;
        standAt(fact.placeId, at);
        break;
      case 'moved':
        if (arrivedAt === null) oddities.push('The car was moved, and nobody told that it had arrived.');
        arrivedAt ??= at;
        standAt(fact.placeId, at);
        break;
      case 'started': {
        const known = operations.get(fact.operation);
        if (known !== undefined && known.state !== 'abandoned' && known.state !== 'paused') {
          oddities.push(`${fact.operation} was started twice.`);
        }
        if (known === undefined || known.state === 'abandoned') {
          const fresh: Open = {
            state: 'underWay',
            startedAt: at,
            endedAt: null,
            pieces: [{ from: at, to: null }],
            by: fact.by,
          };
          operations.set(fact.operation, fresh);
        } else if (known.state === 'paused') {
          known.state = 'underWay';
          known.by = fact.by;
          known.pieces.push({ from: at, to: null });
        }
        break;
      }
      case 'finished':
      case 'abandoned': {
        const operation = begun(fact.operation, at, fact.kind);
        if (operation.state === 'finished') oddities.push(`${fact.operation} was finished twice.`);
        closePiece(operation, at);
        operation.state = fact.kind;
        operation.endedAt = at;
        break;
      }
      case 'interrupted': {
        const operation = begun(fact.operation, at, 'interrupted');
        closePiece(operation, at);
        if (operation.state === 'finished') oddities.push(`${fact.operation} was interrupted after it was finished.`);
        else operation.state = 'paused';
        break;
      }
      case 'resumed': {
        const operation = begun(fact.operation, at, 'resumed');
        if (operation.state === 'finished') oddities.push(`${fact.operation} was resumed after it was finished.`);
        if (operation.state === 'paused') operation.pieces.push({ from: at, to: null });
        if (operation.state !== 'finished') operation.state = 'underWay';
        break;
      }
      case 'handedOver':
        begun(fact.operation, at, 'handed over').by = fact.to;
        break;
      case 'pickedUp': {
        pickedUpAt ??= at;
        const last = stays.at(-1);
        if (last !== undefined && last.to === null) last.to = at;
        break;
      }
      case 'failedFinalInspection':
      case 'noted':
        break;
    }
  }
  return { operations, stays, arrivedAt, pickedUpAt, oddities };
}
