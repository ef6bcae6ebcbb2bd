import type { Bias } from '../../promise/calibrate/bias.ts';
import { calibration } from '../../promise/calibrate/calibration.ts';
import { SCOPE_CHANGES } from '../../promise/outlook/trade-belief.ts';
import { DurationModel } from '../../promise/spread/duration-model.ts';
import { quantileOf } from '../../promise/spread/log-normal.ts';
import { RecipeId, type ShopId, TechnicianId } from '../../trade/model/ids.ts';
import { WorkKind } from '../../trade/model/recipe.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { foundShop } from '../records/found.ts';
import { type FloorLessons, floorLessons } from './floor-lessons.ts';
import type { BiasLine, ChanceView, DurationLine, PromiseCalibration, SetAsideLine } from './promise-views.ts';

const MOST_SCORED = 2000;

/** How well the shop's promises were kept, and what the floor's records have taught. @throws NotFound (shop) */
export async function promiseCalibration(
  deps: Pick<PlanningDeps, 'store' | 'clock'>,
  { shopId }: { readonly shopId: ShopId },
): Promise<PromiseCalibration> {
  const { store } = deps;
  const shop = await foundShop(store, shopId);
  const lessons = await floorLessons(store, shopId, deps.clock());
  const [recipes, people] = await Promise.all([store.recipes.list(shopId), store.technicians.list(shopId)]);
  const recipeName = new Map<string, string>(recipes.map(({ value }) => [value.id, value.name]));
  const personName = new Map<string, string>(people.map(({ value }) => [value.id, value.name]));
  const scored = lessons.promises.slice(-MOST_SCORED);
  const found = calibration(scored);
  return {
    promises: found.promises,
    coverage: found.coverage.map(({ confidence, promises, kept, share, interval, verdict }) => ({
      givenPercent: percent(confidence),
      promises,
      kept,
      keptPercent: percent(share),
      fromPercent: percent(interval.from),
      toPercent: percent(interval.to),
      verdict,
    })),
    brierScore: found.brierScore === null ? null : Math.round(found.brierScore * 10_000) / 10_000,
    pinballLossMinutes: found.pinballLossMinutes === null ? null : Math.round(found.pinballLossMinutes * 10) / 10,
    byRecipe: found.byRecipe.map((bias) => ({
      recipeId: RecipeId.parse(bias.of),
      name: recipeName.get(bias.of) ?? bias.of,
      ...biasLine(bias),
    })),
    byPerson: found.byPerson.map((bias) => ({
      technicianId: TechnicianId.parse(bias.of),
      name: personName.get(bias.of) ?? bias.of,
      ...biasLine(bias),
    })),
    spreadFactor: lessons.learned.spreadFactor,
    finalInspectionFails: chanceView(lessons.inspectionFails, shop.finalInspectionFailurePercent / 100),
    scopeChanges: chanceView(lessons.scopeChanges, SCOPE_CHANGES),
    durations: durationLines(lessons),
    setAside: lessons.setAside.map(setAsideLine).sort((a, b) => b.startedAt - a.startedAt),
  };
}

function biasLine({ promises, meanMinutes, standardErrorMinutes, clear }: Bias): BiasLine {
  return {
    promises,
    meanMinutes: Math.round(meanMinutes),
    standardErrorMinutes: Number.isFinite(standardErrorMinutes) ? Math.round(standardErrorMinutes) : null,
    clear,
  };
}

function chanceView({ probability, happened, cars }: FloorLessons['scopeChanges'], stated: number): ChanceView {
  return { statedPercent: percent(stated), learnedPercent: percent(probability), happened, cars };
}

/** Kinds of work that the floor has recorded, the most often recorded first. */
function durationLines({ learned }: FloorLessons): DurationLine[] {
  const model = new DurationModel(learned.durations);
  return WorkKind.options
    .flatMap((kind): DurationLine[] => {
      const records = learned.durations.kinds.get(kind)?.records ?? 0;
      if (records === 0) return [];
      const { logMean, logDeviation, shared = [] } = model.factorOf(kind, null, null);
      const own = logDeviation * learned.spreadFactor;
      const day = model.ofDays.dayLogDeviation * learned.spreadFactor;
      const unknown = shared.reduce((sum, part) => sum + (part.logDeviation * learned.spreadFactor) ** 2, 0);
      const factor = { logMean, logDeviation: Math.sqrt(own ** 2 + day ** 2 + unknown) };
      return [
        {
          kind,
          records,
          medianPercent: Math.round(100 * Math.exp(logMean)),
          ninetyPercent: Math.round(100 * quantileOf(factor, 0.9)),
        },
      ];
    })
    .sort((a, b) => b.records - a.records);
}

function setAsideLine({ record, reason }: FloorLessons['setAside'][number]): SetAsideLine {
  const { job, work } = record;
  return {
    jobId: job.id,
    car: carName(job),
    operation: work.operation,
    kind: work.kind,
    people: work.people,
    startedAt: work.startedAt,
    plannedMinutes: work.plannedMinutes,
    workedMinutes: work.workedMinutes,
    reason,
  };
}

const percent = (share: number): number => Math.round(share * 1000) / 10;
