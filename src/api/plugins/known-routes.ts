import type { Api } from '../api.ts';

/** Remembers the methods of every address, so that a wrong method can be told from a wrong address. */
export function knownRoutes(app: Api): (path: string) => readonly string[] {
  const methods = new Map<string, Set<string>>();
  app.addHook('onRoute', ({ url, method }) => {
    if (url.includes('*')) return;
    const known = methods.get(url) ?? new Set();
    for (const each of [method].flat()) known.add(each);
    methods.set(url, known);
  });
  return (path) => {
    const segments = path.split('/');
    const found = new Set<string>();
    for (const [pattern, known] of methods) {
      const parts = pattern.split('/');
      if (parts.length === segments.length && parts.every((part, at) => fits(part, segments[at] ?? ''))) {
        for (const each of known) found.add(each);
      }
    }
    return [...found].sort();
  };
}

/** `:id` and `:id.ics` fit any segment that is not empty and ends as the pattern does. */
function fits(part: string, segment: string): boolean {
  if (!part.startsWith(':')) return part === segment;
  const ending = part.match(/^:\w+(\W.*)?$/)?.[1] ?? '';
  return segment.length > ending.length && segment.endsWith(ending);
}
