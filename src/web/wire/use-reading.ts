import { useCallback, useEffect, useState } from 'preact/hooks';
import { read } from './api.ts';

export type Reading<T> =
  | { state: 'loading'; value: T | null }
  | { state: 'ready'; value: T }
  | { state: 'failed'; value: T | null; error: Error };

/** Reads an address now, whenever it changes, and when asked again. The last value stays while a newer one is under way. */
export function useReading<T>(path: string | null): [Reading<T>, () => void] {
  const [reading, setReading] = useState<Reading<T>>({ state: 'loading', value: null });
  const [asked, ask] = useState(0);
  useEffect(() => {
    if (path === null) return setReading({ state: 'loading', value: null });
    const ended = new AbortController();
    setReading((before) => ({ state: 'loading', value: before.value }));
    read<T>(path, ended.signal).then(
      (value) => ended.signal.aborted || setReading({ state: 'ready', value }),
      (error: Error) =>
        ended.signal.aborted || setReading((before) => ({ state: 'failed', value: before.value, error })),
    );
    return () => ended.abort();
  }, [path, asked]);
  return [reading, useCallback(() => ask((count) => count + 1), [])];
}
