import { useEffect, useState } from 'preact/hooks';

/** Whether the server answered the last time it was asked. */
let reached = true;
const listeners = new Set<(reached: boolean) => void>();

export function noteReached(now: boolean): void {
  if (now === reached) return;
  reached = now;
  for (const tell of listeners) tell(now);
}

export function onReached(listener: (reached: boolean) => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

export function useConnection(): boolean {
  const [connected, setConnected] = useState(reached);
  useEffect(() => onReached(setConnected), []);
  return connected;
}
