import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { createInProcessDesk } from '../../../src/shop/booking/in-process-desk.ts';
import { quote } from '../../../src/shop/booking/quote.ts';
import { readDemo } from '../../../src/shop/demo/demo-data.ts';
import { loadDemo } from '../../../src/shop/demo/load-demo.ts';
import type { PlanningDeps } from '../../../src/shop/deps.ts';
import { improvePlan } from '../../../src/shop/planning/improve-plan.ts';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { promiseOutlook } from '../../../src/shop/promises/at-risk.ts';
import { migrate } from '../../../src/store/migration/migrate.ts';
import { openStore } from '../../../src/store/open-store.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { hoursInBays } from './standing.ts';

/**
 * Loads the demo at several moments and says where its cars stand in bays, how soon a coating could come, and which promises are at risk: at
 * once, and after a search for a better plan of so many units of work.
 */
const { values } = parseArgs({
  options: {
    at: {
      type: 'string',
      default: '2026-03-04T10:20+01:00,2026-05-07T15:00+02:00,2026-08-28T09:05+02:00,2026-11-10T12:30+01:00',
    },
    work: { type: 'string', default: '0,60000' },
    seed: { type: 'string', default: '7' },
    bays: { type: 'boolean', default: false },
  },
});

const DAY_MS = 86_400_000;
const demo = await readDemo();
const rows: string[][] = [];
const bayRows: string[][] = [];
for (const text of values.at.split(',')) {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-demo-'));
  const databaseUrl = `file:${join(folder, 'demo.db')}`;
  const now = Date.parse(text) as Instant;
  await migrate({ databaseUrl });
  const store = await openStore({ databaseUrl, clock: () => now });
  let ids = 0;
  const deps: PlanningDeps = {
    store,
    planner: createInProcessPlanner(),
    desk: createInProcessDesk(7, () => 0),
    clock: () => now,
    newId: () => `id-${++ids}`,
    seed: Number(values.seed),
    budget: { promptWork: 20_000, thoroughWork: 60_000, timeLimitMs: 600_000 },
    log: { info() {}, warn() {}, error() {} },
  };
  const { shopId } = await loadDemo(deps);
  for (const work of values.work.split(',').map(Number)) {
    if (work > 0) await improvePlan({ ...deps, budget: { ...deps.budget, thoroughWork: work } }, { shopId });
    const plan = (await store.plans.current(shopId))!;
    const fortnight = hoursInBays(plan, demo, now, now + 14 * DAY_MS);
    for (const bay of fortnight) {
      bayRows.push([
        `${text} ${work} ${bay.placeId}`,
        ...[bay.worked, bay.unattended, bay.between, bay.finished, bay.withWorkLeft].map((each) => figure(each / 2)),
      ]);
    }
    const idle = fortnight.reduce((sum, each) => sum + each.between + each.finished, 0) / 2;
    const worked = fortnight.reduce((sum, each) => sum + each.worked + each.unattended, 0) / 2;
    const held = fortnight.reduce((sum, each) => sum + each.withWorkLeft, 0) / 2;
    const soonest = async (recipeId: string) => {
      const entry = demo.book.find((each) => each.recipeId === recipeId)!;
      const car = {
        ...demo.book[0]!,
        recipeId: entry.recipeId,
        priority: 1,
        earliestDropOff: now,
        wantedPickupAt: null,
        notes: '',
      };
      const request = { ...car, wantedDropOffAt: null, arranged: null };
      const reply = await quote(deps, { shopId, request }).catch((problem) => problem);
      if (!('choices' in reply)) return '-';
      const first = reply.choices[0]!;
      return `${figure((first.dropOffAt - now) / DAY_MS)}/${figure((first.pickupAt - now) / DAY_MS)}`;
    };
    const outlook = await promiseOutlook(deps, { shopId });
    const risky = outlook
      .filter(({ atRisk }) => atRisk)
      .map(({ probabilityPercent }) => Math.round(probabilityPercent));
    rows.push([
      `${text} ${work}`,
      ...[worked, idle, held].map(figure),
      await soonest('oneLayerCeramic'),
      await soonest('multiLayerCeramic'),
      risky.join(' ') || 'none',
      plan.objective.map(({ tier, value }) => `${tier} ${value}`).join(', '),
    ]);
  }
  await store.close();
  await rm(folder, { recursive: true, force: true });
  console.error(`${text} done`);
}
const head = [
  'loaded at, units of work',
  'worked',
  'idle',
  'work left',
  'one layer',
  'multi layer',
  'at risk %',
  'objective',
];
console.log(`${markdownTable(head, rows)}\n`);
if (values.bays) {
  console.log(
    markdownTable(['bay, hours a week', 'worked', 'unattended', 'between', 'finished', 'work left'], bayRows),
  );
}
