import type { ComponentType, FunctionComponent } from 'preact';
import { useCallback, useEffect, useState } from 'preact/hooks';
import { whenDrawn } from '../wire/first-draw.ts';
import { ProblemNote } from './problem-note.tsx';

/**
 * A part that the first view does without: its code comes behind what the first view asks, or, if somebody is faster, when it is
 * wanted.
 */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): FunctionComponent<P> {
  let known: ComponentType<P> | null = null;
  const bring = async () => {
    known ??= await load();
    return known;
  };
  void whenDrawn().then(() => bring().catch(() => undefined));

  return function Later(props: P) {
    const [Part, setPart] = useState(() => known);
    const [error, setError] = useState<Error | null>(null);
    const show = useCallback(() => {
      setError(null);
      bring().then((part) => setPart(() => part), setError);
    }, []);
    useEffect(show, [show]);
    if (Part !== null) return <Part {...props} />;
    return <ProblemNote error={error} onRetry={show} />;
  };
}
