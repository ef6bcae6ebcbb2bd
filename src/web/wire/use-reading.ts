import { useCallback, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { read } from './api.ts';
import { whatCame } from './came-first.ts';

export type Reading<T> =
  | { state: 'loading'; value: T | null }
  | { state: 'ready'; value: T }
  | { state: 'failed'; value: T | null; error: Error };

/** Reads an address now, whenever it changes, and when asked again. The last value stays while a newer one is under way. */
export function useReading<T>(path: string | null): [Reading<T>, () => void] {
  const [reading, setReading] = useState<Reading<T>>(() => begun(path));
  const fresh = useRef(reading.state === 'ready');
  const [asked, ask] = useState(0);
  // Asked before what is known so far is painted, which takes a slow tablet longer than the question.
  useLayoutEffect(() => {
    if (fresh.current) {
      fresh.current = false;
      return;
    }
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

function begun<T>(path: string | null): Reading<T> {
  const value = path === null ? undefined : whatCame<T>(path);
  return value === undefined ? { state: 'loading', value: null } : { state: 'ready', value };
}
