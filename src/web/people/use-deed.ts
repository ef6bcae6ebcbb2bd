import { useState } from 'preact/hooks';

/** Does one thing at a time and keeps what went wrong. */
export function useDeed(): {
  readonly error: Error | null;
  readonly busy: boolean;
  readonly deed: (work: () => Promise<void>) => Promise<void>;
} {
  const [error, setError] = useState<Error | null>(null);
  const [busy, setBusy] = useState(false);
  const deed = async (work: () => Promise<void>) => {
    setBusy(true);
    setError(null);
    try {
      await work();
    } catch (failure) {
      setError(failure as Error);
    } finally {
      setBusy(false);
    }
  };
  return { error, busy, deed };
}
