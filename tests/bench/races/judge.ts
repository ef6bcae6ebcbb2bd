import { type Row, rowsOf } from '../integrity/rows.ts';
import type { Outcome } from './race.ts';

const succeeded = ({ status }: Outcome) => status >= 200 && status < 300;

/** What was acknowledged against what is stored: nothing lost, nothing done twice, nobody overwritten unseen. */
export async function faultsOfOutcomes(
  databaseUrl: string,
  outcomes: readonly Outcome[],
  /** The server was killed: some have no reply, and what they asked for may be there or not. */
  killed = false,
): Promise<string[]> {
  const faults: string[] = [];
  const stored = await rowsOf(databaseUrl, 'SELECT "shopId", "id", "version", "document" FROM "Job"');
  const jobs = new Map(stored.map((row) => [`${row.shopId} ${row.id}`, row]));
  faults.push(...unforeseen(outcomes, killed), ...lostBookings(outcomes, jobs, killed), ...lostUpdates(outcomes, jobs));
  const shops = await rowsOf(databaseUrl, 'SELECT "id", "planVersion" FROM "Shop"');
  faults.push(...lostVersions(outcomes, jobs, new Map(shops.map((row) => [String(row.id), Number(row.planVersion)]))));
  const facts = await rowsOf(databaseUrl, 'SELECT "shopId", "clientId", "fact" FROM "FloorEvent"');
  faults.push(...lostFacts(outcomes, new Set(facts.map(({ shopId, clientId }) => `${shopId} ${clientId}`))));
  const count = new Map<string, number>();
  for (const { shopId, fact } of facts) {
    const { kind, operation } = JSON.parse(String(fact)) as { kind: string; operation?: string };
    // The same may be noted as often as somebody likes.
    if (kind === 'noted') continue;
    const key = `${shopId} ${kind}${operation === undefined ? '' : ` ${operation}`}`;
    count.set(key, (count.get(key) ?? 0) + 1);
  }
  for (const [key, times] of count) if (times > 1) faults.push(`a fact of ${key} is there ${times} times`);
  return faults;
}

/** Every refusal is one that a client can do something about. */
function unforeseen(outcomes: readonly Outcome[], killed: boolean): string[] {
  const known = new Set([
    ...['slot-gone', 'nothing-fits', 'refused', 'stale', 'wrong-state', 'busy', 'gate-shut', 'still-in-flight'],
  ]);
  return outcomes
    .filter((each) => !succeeded(each) && !known.has(each.problem) && !(killed && each.status === 0))
    .map(({ shopId, attempt, status, problem, detail }) => `${shopId} ${attempt.kind}: ${status} ${problem} ${detail}`);
}

function lostBookings(outcomes: readonly Outcome[], jobs: ReadonlyMap<string, Row>, killed: boolean): string[] {
  const faults: string[] = [];
  const byKey = new Map<string, string>();
  const acknowledged = new Set<string>();
  for (const { shopId, attempt, jobId } of outcomes.filter(succeeded)) {
    if (attempt.path !== '/jobs' && attempt.path !== '/holds') continue;
    const id = `${shopId} ${jobId}`;
    acknowledged.add(id);
    if (!jobs.has(id)) faults.push(`${id} was acknowledged and is not there`);
    if (attempt.key === undefined) continue;
    const first = byKey.get(attempt.key);
    if (first !== undefined && first !== id) faults.push(`${attempt.key} was booked twice: ${first} and ${id}`);
    byKey.set(attempt.key, id);
  }
  for (const id of killed ? [] : jobs.keys()) {
    const isOurs =
      / standing-\d+$/.test(id) ||
      outcomes.some(
        ({ attempt, shopId }) => attempt.path.includes('/confirm') && id === `${shopId} ${attempt.path.split('/')[2]}`,
      );
    if (!isOurs && !acknowledged.has(id)) faults.push(`${id} is there and nobody was told`);
  }
  return faults;
}

/** Of those that changed one version at most one succeeded, and the words that stand are those of who succeeded. */
function lostUpdates(outcomes: readonly Outcome[], jobs: ReadonlyMap<string, Row>): string[] {
  const faults: string[] = [];
  const changed = new Map<string, Outcome>();
  for (const outcome of outcomes.filter(succeeded)) {
    const { attempt, shopId } = outcome;
    if (attempt.ifMatch === undefined) continue;
    const of = attempt.path.split('/').slice(0, 3).join('/');
    // A wish names the plan it was looked at in, the others the job.
    const from = attempt.kind === 'wish' ? attempt.ifMatch : String(Number.parseInt(attempt.ifMatch.slice(1), 10));
    const key = `${shopId} ${of} ${from}`;
    if (changed.has(key)) faults.push(`${key} was changed twice from the same version`);
    changed.set(key, outcome);
    if (attempt.kind !== 'change notes') continue;
    const row = jobs.get(`${shopId} ${of.split('/')[2]}`);
    const { notes } = JSON.parse(String(row?.document ?? '{}')) as { notes?: string };
    const meant = (attempt.body as { notes: string }).notes;
    if (notes !== meant) faults.push(`${key}: "${meant}" was acknowledged, "${notes}" is there`);
  }
  return faults;
}

/** What is stored is at least as new as what was acknowledged, of jobs and of plans. */
function lostVersions(
  outcomes: readonly Outcome[],
  jobs: ReadonlyMap<string, Row>,
  plans: ReadonlyMap<string, number>,
): string[] {
  const faults: string[] = [];
  for (const { attempt, shopId, jobId, version } of outcomes.filter(succeeded)) {
    if (version === null) continue;
    const ofPlan = attempt.kind === 'replan' || attempt.kind === 'wish';
    const id = jobId ?? attempt.path.split('/')[2];
    const stored = ofPlan ? plans.get(shopId) : Number(jobs.get(`${shopId} ${id}`)?.version);
    if (!(stored !== undefined && stored >= version)) {
      faults.push(`${shopId} ${attempt.kind} ${id}: version ${version} was acknowledged, ${stored} is there`);
    }
  }
  return faults;
}

function lostFacts(outcomes: readonly Outcome[], stored: ReadonlySet<string>): string[] {
  return outcomes.filter(succeeded).flatMap(({ attempt, shopId }) => {
    const { clientId } = (attempt.body ?? {}) as { clientId?: string };
    if (clientId === undefined || stored.has(`${shopId} ${clientId}`)) return [];
    return [`${shopId} ${attempt.kind} ${clientId} was acknowledged and is not there`];
  });
}
