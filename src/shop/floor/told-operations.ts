import type { OperationKey } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { CarOnFloor } from './gates/situation.ts';
import { stepOf } from './recipe-step.ts';

/** The work on a car as the floor told it, in the form of a plan's operations: for cars that no plan holds any more. */
export function toldOperations(car: CarOnFloor, now: Instant): PlannedOperation[] {
  const { job, recipe, happened } = car;
  return [...happened.work].flatMap(([key, record]): PlannedOperation[] => {
    const first = record.pieces[0];
    const step = stepOf(recipe, key);
    if (first === undefined) return [];
    const pieces = record.pieces.map(({ from, to }) => ({ from, to: to ?? now }));
    const attendance = step?.attendance;
    return [
      {
        jobId: job.id,
        operation: key as OperationKey,
        kind: step?.kind ?? 'rework',
        label: step?.label ?? key,
        start: first.from,
        end: pieces.at(-1)!.to,
        pieces,
        placeId: happened.stays.findLast((stay) => stay.from <= first.from)?.placeId ?? null,
        people: [...new Set(record.pieces.flatMap((piece) => piece.by))],
        sharePercent:
          attendance?.kind === 'watched' ? attendance.sharePercent : attendance?.kind === 'unattended' ? 0 : 100,
        state: record.state === 'underWay' || record.state === 'paused' ? record.state : 'finished',
        remedy: step?.presence.when === 'remedy',
        windowClosesAt: null,
      },
    ];
  });
}
