import { DateTime } from 'luxon';
import type { Vehicle } from '../model/vehicle.ts';
import type { BookingObjection } from './objection.ts';

/** Fresh paint gives off solvent; common practice, wait 30 to 90 days or for the painter's word. */
export const REPAINT_REFUSED_DAYS = 30;
export const REPAINT_ASKED_DAYS = 90;

/**
 * Panels painted so lately that only the painter can say whether they may be coated. `day` is the drop-off's day in
 * the shop's zone.
 */
export function repaintObjections(repaints: Vehicle['repaints'], day: string): BookingObjection[] {
  return repaints.flatMap((repaint, index) => {
    const ageDays = DateTime.fromISO(day).diff(DateTime.fromISO(repaint.paintedOn), 'days').days;
    if (repaint.painterCleared || ageDays >= REPAINT_ASKED_DAYS) return [];
    const refused = ageDays < REPAINT_REFUSED_DAYS;
    const text =
      `${repaint.panel} was painted ${ageDays} days before ${day}; under ${REPAINT_ASKED_DAYS} days it is coated only on ` +
      `the painter's word${refused ? `, under ${REPAINT_REFUSED_DAYS} not without it` : ''}`;
    return [{ field: `vehicle.repaints.${index}`, text, severity: refused ? ('refuse' as const) : ('ask' as const) }];
  });
}
