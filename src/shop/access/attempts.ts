import type { Attempts } from '../../store/store.ts';
import type { Instant } from '../../trade/model/time.ts';
import { TooManyAttempts } from '../problems/problems.ts';

const MINUTE = 60_000;
/** Attempts that may fail in a row before there is a pause: people mistype. */
const FREE = 5;
const FIRST_PAUSE_MINUTES = 1;
const LONGEST_PAUSE_MINUTES = 60;

/**
 * Until when no attempt is looked at after so many failed in a row: pauses that double, an hour at most, so that nobody is
 * locked out for good by somebody else (OWASP ASVS 4.0, 2.2.1: no more than 100 failed attempts an hour).
 */
export function lockAfter(now: Instant): (failed: number) => Instant | null {
  return (failed) => {
    if (failed < FREE) return null;
    const minutes = Math.min(FIRST_PAUSE_MINUTES * 2 ** (failed - FREE), LONGEST_PAUSE_MINUTES);
    return (now + minutes * MINUTE) as Instant;
  };
}

/** @throws TooManyAttempts when the attempt was not counted because they are locked */
export function mustBeCounted(attempts: Attempts | null): void {
  if (attempts === null)
    throw new TooManyAttempts('Too many attempts failed. Wait an hour, or ask whoever admits people.');
}
