import { setTimeout as pause } from 'node:timers/promises';
import { succeed } from './client.ts';

interface PlanVersion {
  readonly version: number;
  readonly objective: readonly { readonly tier: string; readonly value: number }[];
}

const LOOK_EVERY_MS = 200;

/** The plan that stands once no other has followed it for a while: the search for a better one has ended. */
export async function settledPlan(shop: string, quietMs: number): Promise<PlanVersion> {
  let last = (await succeed<PlanVersion>(`${shop}/plan/version`)).body;
  for (let quiet = 0; quiet < quietMs; quiet += LOOK_EVERY_MS) {
    await pause(LOOK_EVERY_MS);
    const { body } = await succeed<PlanVersion>(`${shop}/plan/version`);
    if (body.version !== last.version) quiet = 0;
    last = body;
  }
  return last;
}
