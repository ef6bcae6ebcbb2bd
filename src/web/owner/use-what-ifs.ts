import { useCallback, useEffect, useState } from 'preact/hooks';
import type { WhatIfProgress, WhatIfsReply } from '../../api/replies.ts';

export type Asking =
  | { readonly state: 'idle' }
  | { readonly state: 'planning'; readonly progress: WhatIfProgress | null }
  | { readonly state: 'answered'; readonly answer: WhatIfsReply }
  | { readonly state: 'failed'; readonly error: Error };

/** Has months planned on the server and hears how far it is; going away, or asking anew, stops it there. */
export function useWhatIfs(): { asking: Asking; ask: (path: string) => void; stop: () => void } {
  const [asking, setAsking] = useState<Asking>({ state: 'idle' });
  const [path, setPath] = useState<string | null>(null);
  useEffect(() => {
    if (path === null) return;
    setAsking({ state: 'planning', progress: null });
    const source = new EventSource(path);
    const end = (asking: Asking) => {
      // Before the browser connects again and has it all planned anew.
      source.close();
      setAsking(asking);
      setPath(null);
    };
    source.addEventListener('progress', (event) => setAsking({ state: 'planning', progress: JSON.parse(event.data) }));
    source.addEventListener('answer', (event) => end({ state: 'answered', answer: JSON.parse(event.data) }));
    source.addEventListener('failed', (event) =>
      end({ state: 'failed', error: new Error((JSON.parse(event.data) as { detail: string }).detail) }),
    );
    source.onerror = () => end({ state: 'failed', error: new Error() });
    return () => source.close();
  }, [path]);
  const stop = useCallback(() => {
    setPath(null);
    setAsking({ state: 'idle' });
  }, []);
  return { asking, ask: setPath, stop };
}
