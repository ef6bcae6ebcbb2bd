import { duration } from '../time/format.ts';
import { deskWords } from '../words/desk.ts';

/** By how much something comes later or sooner, in words. */
export function shiftOf(minutes: number): string {
  const text = deskWords.whatIf;
  if (minutes === 0) return text.sameHour;
  return minutes > 0 ? text.later(duration(minutes)) : text.sooner(duration(-minutes));
}
