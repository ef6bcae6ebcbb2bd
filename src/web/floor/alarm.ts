import { useEffect, useRef, useState } from 'preact/hooks';

const ON_KEY = 'panelday.alarms';
const LONG_MS = 400;
let audio: AudioContext | null = null;

/** Browsers let a page sound only after a touch; the first one anywhere wakes it. */
function wake(): void {
  audio ??= new AudioContext();
  void audio.resume();
}

/** A tone and a shake of the device, as often as it presses. */
export function sound(times: number): void {
  navigator.vibrate?.(Array.from({ length: times * 2 - 1 }, () => LONG_MS));
  if (!audio) return;
  for (let each = 0; each < times; each++) {
    const tone = audio.createOscillator();
    const volume = audio.createGain();
    tone.frequency.value = 880;
    volume.gain.value = 0.4;
    tone.connect(volume).connect(audio.destination);
    const at = audio.currentTime + (each * 2 * LONG_MS) / 1_000;
    tone.start(at);
    tone.stop(at + LONG_MS / 1_000);
  }
}

/** Whether the person wants sound and vibration, which is so until said otherwise; kept on the device. */
export function useAlarmsOn(): [boolean, (on: boolean) => void] {
  const [on, setOn] = useState(localStorage.getItem(ON_KEY) !== 'off');
  useEffect(() => {
    if (!on) return;
    addEventListener('pointerdown', wake, { once: true });
    return () => removeEventListener('pointerdown', wake);
  }, [on]);
  return [
    on,
    (next) => {
      localStorage.setItem(ON_KEY, next ? 'on' : 'off');
      if (next) {
        wake();
        sound(1);
      }
      setOn(next);
    },
  ];
}

/** A moment missed for longer is no news any more. */
const MISSED_MS = 10 * 60_000;

/** Sounds once as each of the moments passes. One that passed while the page was read anew sounds when it is back. */
export function useAlarmAt(
  on: boolean,
  name: string,
  moments: readonly { readonly at: number; readonly times: number }[],
  now: number,
): void {
  const key = `panelday.looked ${name}`;
  const looked = useRef(lastLook(key, now));
  useEffect(() => {
    const passed = moments.filter((each) => looked.current < each.at && each.at <= now);
    looked.current = now;
    localStorage.setItem(key, String(now));
    const most = Math.max(0, ...passed.map((each) => each.times));
    if (on && most > 0) sound(most);
  }, [on, key, moments, now]);
}

function lastLook(key: string, now: number): number {
  const kept = Number(localStorage.getItem(key));
  return kept > now - MISSED_MS && kept <= now ? kept : now;
}
