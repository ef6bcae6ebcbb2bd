import type { Occupancy } from '../../store/store.ts';
import type { PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';

export interface Occupied {
  readonly occupancy: readonly Occupancy[];
  /** Stays that lie over another by what was told from the floor; the part that clashes is not claimed. */
  readonly clashes: readonly { readonly stay: PlannedStay; readonly with: PlannedStay }[];
}

/**
 * The places a plan takes from now on. What the floor told may put two cars into one place; the one that came later then
 * claims only what the other leaves, so that facts never stop a plan from being published.
 */
export function occupancyOf(stays: readonly PlannedStay[], now: Instant): Occupied {
  const occupancy: Occupancy[] = [];
  const clashes: { stay: PlannedStay; with: PlannedStay }[] = [];
  const last = new Map<string, PlannedStay>();
  const ahead = stays.filter((stay) => stay.to > now && stay.to > stay.from);
  for (const stay of ahead.sort((a, b) => a.from - b.from || a.to - b.to)) {
    const before = last.get(stay.placeId);
    let from: number = Math.max(stay.from, now);
    if (before !== undefined && before.to > from) {
      if (before.jobId !== stay.jobId) clashes.push({ stay, with: before });
      from = before.to;
    }
    if (from < stay.to) {
      occupancy.push({ placeId: stay.placeId, jobId: stay.jobId, from: from as Instant, to: stay.to });
    }
    if (before === undefined || stay.to > before.to) last.set(stay.placeId, stay);
  }
  return { occupancy, clashes };
}
