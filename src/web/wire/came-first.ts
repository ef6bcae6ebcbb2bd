import { read } from './api.ts';
import { whenQuiet } from './when-quiet.ts';

/** So long the first view waits at most for what should be there already. */
const PATIENCE_MS = 500;

const came = new Map<string, unknown>();

/**
 * Takes in what the server sent along with the page, as its `Link` header says, so that the first view is drawn once and with
 * figures. What has not come by now is asked for by whatever shows it.
 */
export async function takeWhatCame(): Promise<void> {
  const paths = performance
    .getEntriesByType('resource')
    .filter((each) => (each as PerformanceResourceTiming).initiatorType === 'link')
    .map((each) => new URL(each.name))
    .filter((each) => each.origin === location.origin && each.pathname.startsWith('/v1/'))
    .map((each) => each.pathname + each.search);
  if (paths.length === 0) return;
  // One that fails is asked again by what shows it, which says why.
  let late = false;
  const all = Promise.allSettled(
    paths.map(async (path) => {
      const value = await read(path);
      if (!late) came.set(path, value);
    }),
  );
  await Promise.race([all, new Promise((resolve) => setTimeout(resolve, PATIENCE_MS))]);
  late = true;
  void whenQuiet().then(() => came.clear());
}

/** What came for an address; undefined when nothing did, or when it has been taken. */
export function whatCame<T>(path: string): T | undefined {
  const value = came.get(path) as T | undefined;
  came.delete(path);
  return value;
}
