import type { ShopAsItStands } from '../../../src/shop/records/shop-as-it-stands.ts';

const MINUTE = 60_000;
/** A car is told of that becomes ready so much later. */
const WORTH_MS = 30 * MINUTE;

/** Tells of cars that a new plan makes ready later, how much room they have until their promise, and what the plan was made for. */
export function tracer(): (standing: ShopAsItStands, now: number, asked: string) => void {
  const readyThen = new Map<string, number>();
  return ({ plan, openJobs }, now, asked) => {
    for (const { jobId, readyAt } of plan?.jobs ?? []) {
      const before = readyThen.get(jobId);
      readyThen.set(jobId, readyAt);
      const promise = openJobs.find(({ id }) => id === jobId)?.promise;
      if (before === undefined || readyAt < before + WORTH_MS || promise == null) continue;
      const room = (at: number) => Math.round((promise.pickupAt - at) / MINUTE);
      const at = new Date(now).toISOString().slice(5, 16);
      console.log(`${at} ${jobId}: room ${room(before)} -> ${room(readyAt)} minutes (${plan!.reason}; ${asked})`);
    }
  };
}
