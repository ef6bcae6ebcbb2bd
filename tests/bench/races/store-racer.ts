import { occupancyOf } from '../../../src/shop/planning/occupancy.ts';
import { StoreRefusal } from '../../../src/store/contract/errors.ts';
import { openStore } from '../../../src/store/open-store.ts';
import type { Store } from '../../../src/store/store.ts';
import type { JobId, PlaceId, ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

/** One round: what every racer of it wants, so that of each kind exactly one can have it. */
export interface Round {
  readonly number: number;
  readonly shopId: ShopId;
  readonly jobId: JobId;
  readonly jobVersion: number;
  readonly planVersion: number;
  readonly placeId: PlaceId;
  readonly from: Instant;
  readonly to: Instant;
}

export const STORE_KINDS = [
  'hold the same place and time',
  'change a job at one version',
  'publish a plan after one version',
  'tell the same fact',
  'answer the same request',
] as const;
export type StoreKind = (typeof STORE_KINDS)[number];

export interface StoreOutcome {
  readonly round: number;
  readonly kind: StoreKind;
  readonly by: string;
  /** `won`; else the code of the refusal, or `known` where the same was done before. */
  readonly what: string;
}

/** Attempts of one racer in one round, by kind: half of them for one place and time. */
const OF_A_ROUND: Readonly<Record<StoreKind, number>> = {
  'hold the same place and time': 12,
  'change a job at one version': 4,
  'publish a plan after one version': 4,
  'tell the same fact': 2,
  'answer the same request': 2,
};
export const ATTEMPTS_OF_A_ROUND = Object.values(OF_A_ROUND).reduce((sum, each) => sum + each, 0);

// A process of its own, with the store opened as a server opens it. Its parent says when a round begins.
const [, , databaseUrl = '', name = ''] = process.argv;
if (process.send !== undefined) {
  const store = await openStore({ databaseUrl });
  process.on('message', async (message: Round | 'end') => {
    if (message === 'end') {
      await store.close();
      process.disconnect();
      return;
    }
    process.send!(await raceRound(store, message));
  });
  process.send('ready');
}

async function raceRound(store: Store, round: Round): Promise<StoreOutcome[]> {
  const attempts = STORE_KINDS.flatMap((kind) =>
    Array.from({ length: OF_A_ROUND[kind] }, async (_, k): Promise<StoreOutcome> => {
      const by = `${name}-${round.number}-${k}`;
      try {
        return { round: round.number, kind, by, what: await attempt(store, kind, by, round) };
      } catch (error) {
        const what = error instanceof StoreRefusal ? error.code : `fault: ${error}`;
        return { round: round.number, kind, by, what };
      }
    }),
  );
  return Promise.all(attempts);
}

async function attempt(store: Store, kind: StoreKind, by: string, round: Round): Promise<string> {
  const { shopId, jobId, placeId, from, to } = round;
  const now = Date.now() as Instant;
  if (kind === 'hold the same place and time') {
    await store.holds.take(shopId, [{ placeId, from, to, owner: by, expiresAt: (now + 3_600_000) as Instant }], now);
    return 'won';
  }
  if (kind === 'change a job at one version') {
    const { value } = (await store.jobs.get(shopId, jobId))!;
    await store.jobs.put(shopId, { ...value, notes: by }, round.jobVersion);
    return 'won';
  }
  if (kind === 'publish a plan after one version') {
    const standing = (await store.plans.current(shopId))!;
    const plan = { ...standing, version: round.planVersion + 1, madeAt: now, reason: by };
    const { occupancy } = occupancyOf(plan.stays, now);
    await store.plans.publish({ shopId, expectedVersion: round.planVersion, plan, occupancy, now });
    return 'won';
  }
  if (kind === 'tell the same fact') {
    const fact = { kind: 'noted' as const, operation: null, text: by };
    const told = { jobId, clientId: `fact-of-round-${round.number}`, occurredAt: now, recordedAt: now, fact };
    return (await store.floorEvents.append(shopId, told)).repeated ? 'known' : 'won';
  }
  const key = { shopId, principal: 'bench', route: 'bench', key: `round-${round.number}` };
  return (await store.replies.begin(key, 'hash', now)).claimed ? 'won' : 'known';
}
