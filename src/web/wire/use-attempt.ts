import { useState } from 'preact/hooks';

interface Attempt {
  /** What went wrong last; null once something is tried anew. */
  readonly error: Error | null;
  readonly busy: boolean;
  /** Does something and keeps what goes wrong with it. */
  readonly attempt: (work: () => Promise<void>) => Promise<void>;
  /** Says what is wrong without having tried, or (null) that nothing is any more. */
  readonly setError: (error: Error | null) => void;
}

/** What a form or a button tries to do: that it is under way, and what went wrong. */
export function useAttempt(): Attempt {
  const [error, setError] = useState<Error | null>(null);
  const [busy, setBusy] = useState(false);
  const attempt = async (work: () => Promise<void>) => {
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
  return { error, busy, attempt, setError };
}
