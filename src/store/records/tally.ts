import type { Queries } from '../connection/connection.ts';
import type { Tally } from '../contract/tally.ts';

/** As `JSON.stringify` writes it: the time of acknowledgement is always there, and null until then. */
const UNACKNOWLEDGED = '"acknowledgedAt":null';

/** Counts over all shops. */
export async function tallyOf(reader: Queries): Promise<Tally> {
  const shops = await reader.shop.aggregate({ _count: true, _sum: { planVersion: true, outboxSequence: true } });
  const jobs = await reader.job.groupBy({ by: ['state'], _count: true });
  const messages = await reader.customerMessage.groupBy({ by: ['state'], _count: true });
  return {
    shops: shops._count,
    jobs: Object.fromEntries(jobs.map(({ state, _count }) => [state, _count])),
    messages: Object.fromEntries(messages.map(({ state, _count }) => [state, _count])),
    unacknowledgedExceptions: await reader.deskException.count({ where: { document: { contains: UNACKNOWLEDGED } } }),
    plans: shops._sum.planVersion ?? 0,
    news: shops._sum.outboxSequence ?? 0,
  };
}
