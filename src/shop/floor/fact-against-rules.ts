import type { Records } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';
import { shutGates } from './gates/gates-of.ts';
import { loadSituation } from './load-situation.ts';
import { oddities } from './oddities.ts';
import { whatHappened } from './what-happened.ts';

/** What a fact about to be recorded stands against: the gates at its time, the facts before it, another car in the place. */
export async function factAgainstRules(
  records: Records,
  shopId: ShopId,
  job: Job,
  told: Omit<FloorEvent, 'sequence'>,
): Promise<readonly string[]> {
  const event: FloorEvent = { ...told, sequence: Number.MAX_SAFE_INTEGER };
  const { fact, occurredAt } = event;
  if (fact.kind === 'noted') return [];
  const known = await records.floorEvents.listByJob(shopId, job.id);
  if (known.some((each) => each.clientId === event.clientId)) return [];
  const car = carName(job);
  const texts: string[] = [];
  const closed = {
    cancelled: 'cancelled',
    noShow: 'closed as a no-show',
    lapsed: 'a lapsed hold',
    done: 'done',
  } as const;
  // A pickup told after the handover that it ended says the same again.
  const saysTheSame = job.state === 'done' && fact.kind === 'pickedUp';
  if (job.state in closed && !saysTheSame) {
    texts.push(`${car}: the job was ${closed[job.state as keyof typeof closed]} when "${fact.kind}" was recorded.`);
  }
  if (fact.kind === 'started') {
    const asked = { shopId, jobId: job.id, operation: fact.operation, by: fact.by, at: occurredAt };
    const situation = await loadSituation(records, asked);
    texts.push(...shutGates(situation).map((each) => `${car}: ${each.text}`));
  }
  const own = [...known, event];
  texts.push(...oddities(own, event).map((text) => `${car}: ${text}`));
  if (fact.kind === 'arrived' || fact.kind === 'moved') {
    for (const other of await carsStandingAt(records, shopId, job, fact.placeId, occurredAt)) {
      texts.push(`${car}: the place was still taken by ${other}.`);
    }
  }
  return texts;
}

async function carsStandingAt(
  records: Records,
  shopId: ShopId,
  job: Job,
  placeId: string,
  at: Instant,
): Promise<readonly string[]> {
  const others = (await records.jobs.listOpen(shopId)).map((each) => each.value).filter((each) => each.id !== job.id);
  const events = await records.floorEvents.listByJobs(
    shopId,
    others.map((each) => each.id),
  );
  return others
    .filter((other) => {
      const stays = whatHappened(
        events.filter((each) => each.jobId === other.id),
        at,
      ).stays;
      return stays.some((stay) => stay.placeId === placeId && stay.to === null);
    })
    .map(carName);
}
