import { promiseCalibration } from '../../../src/shop/promises/calibration-of.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { median, quantile } from '../figures/quantile.ts';
import type { Floor } from './floor.ts';
import { everyHappening, type Happened, happenings } from './happenings.ts';
import type { WeeksRun } from './run-weeks.ts';
import type { VirtualShop } from './virtual-shop.ts';

const MINUTE = 60_000;

/** What was promised, and what came of it. */
export async function report(
  seed: number,
  shop: VirtualShop,
  { floor, calls, happened, watch }: WeeksRun,
): Promise<void> {
  const { coverage, promises, spreadFactor, byRecipe } = await promiseCalibration(shop.deps, { shopId: shop.shopId });
  console.log(`### Seed ${seed}\n`);
  console.log(
    `${calls.asked} asked, ${calls.sold} sold (${figure(median(calls.daysAhead))} days ahead), ${promises} promises judged, spread factor ${figure(spreadFactor)}; ` +
      `${floor.tally.facts} facts, ${shop.planned.plans} plans and ${shop.planned.better} better ones, ${shop.planned.failed.length} failed, ` +
      `p50 ${figure(median(shop.planned.planMs))} ms, p99 ${figure(quantile(shop.planned.planMs, 0.99))}; ` +
      `${floor.tally.failedInspections} inspections failed, ${floor.tally.grownScopes} scopes grew, ${floor.tally.placeTaken.size} cars found their place taken.\n`,
  );
  console.log(
    markdownTable(
      ['given at %', 'promises', 'kept', 'kept %', 'from', 'to'],
      coverage.map((line) =>
        [line.givenPercent, line.promises, line.kept, line.keptPercent, line.fromPercent, line.toPercent].map(String),
      ),
    ),
  );
  console.log(await byHappening(shop, floor, happened));
  console.log(await brokenOnes(shop, floor));
  console.log(
    byRecipe
      .map(({ name, promises, meanMinutes }) => `${name}: ${promises}, ready ${meanMinutes} minutes from its median`)
      .join('\n'),
  );
  for (const [rule, works] of floor.tally.shut)
    console.log(`gate ${rule}: ${works.size} works, such as ${[...works][0]}`);
  for (const [text, times] of calls.refused) console.log(`refused ${times}: ${text}`);
  for (const [text, times] of happened.refused) console.log(`refused ${times}: ${text}`);
  for (const text of watch.setAside.values()) console.log(`set aside: ${text}`);
  for (const text of watch.stalls) console.log(`the floor stood still: ${text}`);
  for (const [kind, texts] of await toldTheDesk(shop))
    console.log(`told the desk ${texts.length} times, ${kind}: such as ${texts.slice(0, 5).join(' | ')}`);
  for (const text of shop.planned.failed.slice(0, 10)) console.log(`no plan: ${text.slice(0, 300)}`);
  for (const text of shop.complaints.slice(0, 10)) console.log(`log: ${text.slice(0, 300)}`);
  console.log('');
}

/** How often what happened, and how the promises of the cars that it touched fared. */
async function byHappening(
  { deps, shopId }: VirtualShop,
  { tally }: Floor,
  { times, cars }: Happened,
): Promise<string> {
  const rows: string[][] = [];
  for (const kind of everyHappening) {
    const late: number[] = [];
    let promises = 0;
    for (const jobId of cars.get(kind) ?? []) {
      const readyAt = tally.readyAt.get(jobId);
      const { promise } = (await deps.store.jobs.get(shopId, jobId))!.value;
      if (promise === null || readyAt === undefined) continue;
      promises += 1;
      if (readyAt > promise.pickupAt) late.push(Math.round((readyAt - promise.pickupAt) / MINUTE));
    }
    const kept = `${promises - late.length} of ${promises}`;
    rows.push([happenings[kind].words, String(times.get(kind) ?? 0), kept, late.sort((a, b) => a - b).join(', ')]);
  }
  return markdownTable(['what', 'times', 'promises kept of cars it touched', 'minutes late'], rows);
}

/** What the desk was told, by kind. */
async function toldTheDesk({ deps, shopId }: VirtualShop): Promise<Map<string, string[]>> {
  const byKind = new Map<string, string[]>();
  for (const { value } of await deps.store.deskExceptions.list(shopId))
    byKind.set(value.kind, [...(byKind.get(value.kind) ?? []), value.text]);
  return byKind;
}

/** The cars that were not ready for the hour that was told. */
async function brokenOnes({ deps, shopId }: VirtualShop, { tally }: Floor): Promise<string> {
  const rows: string[][] = [];
  for (const [jobId, readyAt] of tally.readyAt) {
    const { value: job } = (await deps.store.jobs.get(shopId, jobId))!;
    if (job.promise === null || readyAt <= job.promise.pickupAt) continue;
    const { pickupAt, confidencePercent, medianReadyAt = pickupAt } = job.promise;
    const late = Math.round((readyAt - pickupAt) / MINUTE);
    rows.push([
      jobId,
      job.recipeId,
      String(confidencePercent),
      local(medianReadyAt),
      local(pickupAt),
      local(readyAt),
      String(late),
    ]);
  }
  const head = ['car', 'recipe', 'given at %', 'median ready', 'promised', 'ready', 'minutes late'];
  return rows.length === 0 ? 'No promise was broken.\n' : `${markdownTable(head, rows)}\n`;
}

function local(at: number): string {
  return new Date(at).toISOString().slice(5, 16);
}
