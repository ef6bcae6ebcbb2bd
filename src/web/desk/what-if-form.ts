import type { PlannedOperation, Shop } from '../../api/replies.ts';
import { instantAt, localClockOf, localDateOf } from '../time/format.ts';
import type { Dropped } from './carry.ts';

/** What the dialog holds; text, as inputs do. */
export interface WhatIfForm {
  readonly operation: string;
  readonly placeId: string;
  readonly personId: string;
  readonly when: 'any' | 'at' | 'notBefore';
  readonly day: string;
  readonly clock: string;
}

/** Work that has not begun, in order. A move follows from where the work is done. */
export function unbegun(operations: readonly PlannedOperation[]): PlannedOperation[] {
  return operations
    .filter((each) => each.kind !== 'move' && (each.state === 'planned' || each.state === 'paused'))
    .sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
}

/** What was dragged, as the dialog shows it. `by` is what columns were. */
export function formOf(
  dropped: Dropped,
  by: 'place' | 'person',
  operations: readonly PlannedOperation[],
  { timeZone }: Shop,
): WhatIfForm {
  const first = operations.find((each) => each.operation === dropped.operation) ?? unbegun(operations)[0];
  const at = dropped.startAt ?? first?.start ?? new Date().toISOString();
  return {
    operation: dropped.operation ?? '',
    placeId: by === 'place' ? (dropped.column ?? '') : '',
    personId: by === 'person' ? (dropped.column ?? '') : '',
    when: dropped.startAt === null ? 'any' : 'at',
    day: localDateOf(timeZone, at),
    clock: localClockOf(timeZone, at),
  };
}

/** The question as the API takes it; null when nothing is asked. */
export function questionOf(jobId: string, form: WhatIfForm, { timeZone }: Shop) {
  const at = form.when === 'any' ? null : instantAt(timeZone, form.day, form.clock);
  const asked = {
    jobId,
    operation: form.operation || null,
    placeId: form.placeId || null,
    personId: form.personId || null,
    startAt: form.when === 'at' ? at : null,
    notBefore: form.when === 'notBefore' ? at : null,
  };
  return asked.placeId === null && asked.personId === null && at === null ? null : asked;
}
