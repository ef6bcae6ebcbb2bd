import { useState } from 'preact/hooks';
import { call } from '../wire/api.ts';

/** Where one came from on this server, else the entrance. Never another server's address. */
export function whereTo(search: string): string {
  const to = new URLSearchParams(search).get('to') ?? '/';
  const address = new URL(to, location.origin);
  return address.origin === location.origin ? address.pathname + address.search : '/';
}

/** Tries a way in; when it is one, goes on to where one came from. */
export function useEnter(): {
  readonly error: Error | null;
  readonly busy: boolean;
  readonly enter: (path: string, body: object) => Promise<void>;
} {
  const [error, setError] = useState<Error | null>(null);
  const [busy, setBusy] = useState(false);
  const enter = async (path: string, body: object) => {
    setBusy(true);
    setError(null);
    try {
      await call(`/v1/sign-ins/${path}`, { method: 'POST', body });
      location.replace(whereTo(location.search));
    } catch (failure) {
      setError(failure as Error);
      setBusy(false);
    }
  };
  return { error, busy, enter };
}
