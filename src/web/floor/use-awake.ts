import { useEffect } from 'preact/hooks';

/** Keeps the tablet's screen on while something runs that has to be watched; browsers that cannot do it dim as ever. */
export function useAwake(wanted: boolean): void {
  useEffect(() => {
    if (!wanted || !('wakeLock' in navigator)) return;
    let lock: WakeLockSentinel | null = null;
    let left = false;
    const ask = () => {
      if (document.visibilityState !== 'visible') return;
      // Refused when the battery is low, for instance; then the screen dims.
      navigator.wakeLock.request('screen').then(
        (got) => {
          if (left) void got.release();
          else lock = got;
        },
        () => undefined,
      );
    };
    ask();
    // The browser gives it up whenever the page is hidden.
    document.addEventListener('visibilitychange', ask);
    return () => {
      left = true;
      document.removeEventListener('visibilitychange', ask);
      void lock?.release();
    };
  }, [wanted]);
}
