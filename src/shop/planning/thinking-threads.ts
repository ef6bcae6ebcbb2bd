import { Piscina } from 'piscina';
import type { Log } from '../deps.ts';

/**
 * Threads on which plans are made, promises simulated and months drawn. What is run is named with each task and not here: a
 * worker whose code cannot be loaded then fails the task, not the threads. Whoever makes them destroys them.
 */
export interface ThinkingThreads {
  /** For what somebody waits for. One stays, warm. */
  readonly prompt: Piscina;
  /** For what nobody waits for; they give way to everything else on the machine, and end when there is nothing to do for long. */
  readonly patient: Piscina;
  destroy(): Promise<void>;
}

const IDLE_MS = 30_000;
/** A thread that begins anew compiles for a second what it runs, beside whatever else the machine does: in a shop at work it stays. */
const PATIENT_IDLE_MS = 10 * 60_000;
/**
 * Room for what was just made, on threads somebody waits for. A plan of two hundred cars is made of objects that live until it is
 * told: with half of this they are copied so often that it takes a fifth longer.
 */
const YOUNG_MB = 24;
/** By so much less of a busy processor do threads ask for; of Unix. Whoever serves comes first, then what somebody waits for. */
export const PROMPT_NICE = 5;
const PATIENT_NICE = 19;

/** @param most threads of either kind; each holds the engine's code and a heap of its own. */
export function createThinkingThreads({ most, log }: { readonly most: number; readonly log: Log }): ThinkingThreads {
  const maxThreads = Math.max(1, most);
  const prompt = new Piscina({
    minThreads: 1,
    maxThreads,
    idleTimeout: IDLE_MS,
    niceIncrement: PROMPT_NICE,
    atomics: 'disabled',
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
  });
  const patient = new Piscina({
    minThreads: 0,
    maxThreads,
    idleTimeout: PATIENT_IDLE_MS,
    niceIncrement: PATIENT_NICE,
    atomics: 'disabled',
  });
  for (const threads of [prompt, patient]) {
    threads.on('error', (err) => log.error({ err }, 'a thinking thread died outside a task and was replaced'));
  }
  return {
    prompt,
    patient,
    async destroy() {
      await Promise.all([prompt.destroy(), patient.destroy()]);
    },
  };
}
