import { useEffect } from 'preact/hooks';
import { useReading } from '../wire/use-reading.ts';

interface Kept<T> {
  readonly at: string;
  readonly value: T;
}

/** Reads an address, and where that fails shows what was read last, with the hour it was read. */
export function useKeptReading<T>(path: string | null) {
  const key = `panelday.kept ${path}`;
  const [reading, again] = useReading<T>(path);
  useEffect(() => {
    if (path === null || reading.state !== 'ready') return;
    localStorage.setItem(key, JSON.stringify({ at: new Date().toISOString(), value: reading.value }));
  }, [key, path, reading]);
  const text = path === null ? null : localStorage.getItem(key);
  const kept = text === null ? null : (JSON.parse(text) as Kept<T>);
  return {
    value: reading.value ?? kept?.value ?? null,
    /** Set when what is shown is not fresh. */
    oldFrom: reading.state === 'failed' ? (kept?.at ?? null) : null,
    error: reading.state === 'failed' ? reading.error : null,
    loading: reading.state === 'loading',
    again,
  };
}
