import { useEffect } from 'preact/hooks';
import { noteReached } from './connection.ts';

const kinds = [
  'plan.published',
  'fact.recorded',
  'exception.raised',
  'exception.acknowledged',
  'job.changed',
  'promise.atRisk',
  'technician.timeOff',
  'readings.recorded',
];
const SETTLE_MS = 250;

/** Calls back shortly after news of the shop, once for a burst of them. The browser reconnects by itself. */
export function useNews(shopId: string | null, onNews: () => void): void {
  useEffect(() => {
    if (shopId === null) return;
    const source = new EventSource(`/v1/shops/${shopId}/events`);
    let timer: ReturnType<typeof setTimeout> | undefined;
    const heard = () => {
      clearTimeout(timer);
      timer = setTimeout(onNews, SETTLE_MS);
    };
    // After a break the server tells what was missed; what is shown is read again in any case.
    source.onopen = () => {
      noteReached(true);
      heard();
    };
    source.onerror = () => noteReached(false);
    for (const kind of kinds) source.addEventListener(kind, heard);
    return () => {
      clearTimeout(timer);
      source.close();
    };
  }, [shopId, onNews]);
}
