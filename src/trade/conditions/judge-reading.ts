import type { DataSheet } from '../model/coating.ts';
import type { ConditionsReading } from '../model/readings.ts';
import type { Instant } from '../model/time.ts';
import { type ConditionsVerdict, judgeConditions } from './judge-conditions.ts';

/** Minutes a measured reading binds; common practice, the air of a room does not stand still longer. */
export const READING_BINDS_MINUTES = 60;

const MS_PER_MINUTE = 60_000;

/** Whether a measured reading still binds. */
export function readingBinds(reading: Pick<ConditionsReading, 'at' | 'source'>, now: Instant): boolean {
  const ageMinutes = (now - reading.at) / MS_PER_MINUTE;
  return reading.source === 'measured' && ageMinutes >= 0 && ageMinutes < READING_BINDS_MINUTES;
}

/**
 * The floor's verdict before coating: fit only on a fresh measured reading with the panel's temperature.
 * `reading` is null when none was taken.
 */
export function judgeReading(sheet: DataSheet, reading: ConditionsReading | null, now: Instant): ConditionsVerdict {
  if (!reading) {
    return { fit: false, reasons: [{ text: 'no reading was taken', limit: READING_BINDS_MINUTES, value: 0 }] };
  }
  const verdict = judgeConditions(sheet, reading);
  const reasons = [...verdict.reasons];
  if (!readingBinds(reading, now)) {
    const ageMinutes = Math.round((now - reading.at) / MS_PER_MINUTE);
    const text =
      reading.source === 'measured'
        ? `reading is ${ageMinutes} minutes old, at most ${READING_BINDS_MINUTES}`
        : `reading is a ${reading.source} value, not measured`;
    reasons.push({ text, limit: READING_BINDS_MINUTES, value: ageMinutes });
  }
  if (reading.panelTempC === null) {
    reasons.push({ text: 'panel temperature was not measured', limit: sheet.maxPanelTempC, value: reading.airTempC });
  }
  return { fit: reasons.length === 0, reasons };
}
