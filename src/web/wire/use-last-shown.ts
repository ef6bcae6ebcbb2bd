import { useRef } from 'preact/hooks';
import type { Reading } from './use-reading.ts';

/** What is read, or, while it is first under way, what was shown before: a sheet that changes its day does not go blank meanwhile. */
export function useLastShown<T>(reading: Reading<T>): Reading<T> {
  const last = useRef<T | null>(null);
  if (reading.value !== null) last.current = reading.value;
  return reading.state === 'loading' ? { state: 'loading', value: reading.value ?? last.current } : reading;
}
