import { useEffect, useState } from 'preact/hooks';
import type { Problem } from '../../api/replies.ts';
import { call, Refusal, Unreachable } from '../wire/api.ts';
import { onReached } from '../wire/connection.ts';
import { floorWords } from '../words/floor.ts';
import { forgetPhoto, keepPhoto, keptPhoto } from './kept-photos.ts';

/** Something a person did that the server has to hear of, once and in order. */
export interface Action {
  /** Key of the request, and of the fact where there is one: the same id again is the same action. */
  readonly id: string;
  /** Key of the request, where it is not the id. */
  readonly key?: string;
  readonly path: string;
  /** Absent: the body is the photograph kept under `id`. */
  readonly body?: unknown;
  /** What to show meanwhile. */
  readonly shows?: {
    readonly jobId: string;
    readonly operation: string;
    readonly as: 'underWay' | 'paused' | 'finished';
  };
}

export interface RefusedAction {
  readonly action: Action;
  readonly problem: Problem;
}

const KEPT_KEY = 'panelday.outbox';
const REFUSED_KEY = 'panelday.outbox-refused';
const AGAIN_MS = 4_000;

const read = <T>(key: string): readonly T[] => JSON.parse(localStorage.getItem(key) ?? '[]');
const changed = new EventTarget();
const write = (key: string, value: unknown) => {
  localStorage.setItem(key, JSON.stringify(value));
  changed.dispatchEvent(new Event('change'));
};

export const kept = () => read<Action>(KEPT_KEY);
export const refused = () => read<RefusedAction>(REFUSED_KEY);
export const forgetRefused = () => write(REFUSED_KEY, []);

/**
 * Sends an action now, unless earlier ones still wait: then it waits behind them. Without a connection it is kept on the device.
 * @returns the reply, or null when it was kept
 * @throws Refusal when the server says no at once
 */
export async function send<T>(action: Action): Promise<T | null> {
  return inTurn(async () => {
    if (kept().length === 0) {
      try {
        return (await call<T>(action.path, { method: 'POST', key: action.id, body: action.body })).value;
      } catch (failure) {
        if (!(failure instanceof Unreachable)) throw failure;
      }
    }
    write(KEPT_KEY, [...kept(), action]);
    return null;
  });
}

/** Puts a photograph in line behind what was done before it, and goes on sending. */
export async function sendPhoto(id: string, path: string, photo: Blob): Promise<void> {
  await keepPhoto(id, photo);
  write(KEPT_KEY, [...kept(), { id, path }]);
  await flush();
}

/** Sends what is kept, oldest first, one at a time, and stops where the connection does. */
export async function flush(): Promise<void> {
  await inTurn(async () => {
    for (let first = kept()[0]; first !== undefined; first = kept()[0]) {
      const outcome = await attempt(first);
      if (outcome === 'wait') return;
      if (outcome !== 'landed') write(REFUSED_KEY, [...refused(), { action: first, problem: outcome }]);
      write(KEPT_KEY, kept().slice(1));
    }
  });
}

/** One request of the device after another, whichever tab it comes from: what was done first is told first. */
function inTurn<T>(work: () => Promise<T>): Promise<T> {
  return navigator.locks.request('panelday.outbox', work) as Promise<T>;
}

async function attempt(action: Action): Promise<'landed' | 'wait' | Problem> {
  const { id, path } = action;
  const body = action.body ?? (await keptPhoto(id));
  if (body === null) return { type: 'about:blank', title: floorWords.photoLost, status: 0 };
  try {
    await call(path, { method: 'POST', key: action.key ?? id, body });
  } catch (failure) {
    if (!(failure instanceof Refusal)) return 'wait';
    const { problem } = failure;
    // Begun by a server that died: what it carries has an id of its own, so that another request says the same thing.
    if (problem.type.endsWith('reply-lost') && action.key === undefined) return attempt({ ...action, key: `${id}.2` });
    const passing = problem.status >= 500 || problem.type.endsWith('still-in-flight') || problem.type.endsWith('busy');
    if (passing) return 'wait';
    if (action.body === undefined) await forgetPhoto(id);
    return problem;
  }
  if (action.body === undefined) await forgetPhoto(id);
  return 'landed';
}

/** What waits on this device and what was refused; sends when the connection is back. `onLanded` is told when some has gone. */
export function useOutbox(onLanded: () => void) {
  const [state, setState] = useState({ kept: kept(), refused: refused() });
  useEffect(() => {
    const look = () => setState({ kept: kept(), refused: refused() });
    const go = async () => {
      const before = kept().length;
      if (before > 0) await flush();
      if (kept().length < before) onLanded();
    };
    const run = () => void go();
    changed.addEventListener('change', look);
    addEventListener('storage', look);
    addEventListener('online', run);
    const forget = onReached((reached) => reached && run());
    const timer = setInterval(run, AGAIN_MS);
    run();
    return () => {
      changed.removeEventListener('change', look);
      removeEventListener('storage', look);
      removeEventListener('online', run);
      forget();
      clearInterval(timer);
    };
  }, [onLanded]);
  return state;
}
