import { type EstimateLine, type Estimates, estimateErrors } from '../../../shop/utilisation/estimates.ts';
import { type Revenue, revenueByRecipe } from '../../../shop/utilisation/revenue.ts';
import { type WeekUtilisation, weekUtilisation } from '../../../shop/utilisation/week.ts';
import { weekTotals } from '../../../shop/utilisation/weeks.ts';
import type { LocalDate } from '../../../trade/model/time.ts';
import type { Api } from '../../api.ts';
import type { ApiDeps } from '../../deps.ts';
import { mondayIn } from '../../wire/local-day.ts';
import { figuresRoute } from './figures-route.ts';
import { EstimatesReply, RevenueReply, TrendQuery, TrendReply, WeekQuery, WeekReply, WeeksQuery } from './schemas.ts';

const bayParts = ['open', 'worked', 'curing', 'waiting', 'blocked', 'empty'];
const promiseParts = ['promisesDue', 'promisesKept', 'promisesBroken', 'promisesOpen'];
const revenueParts = ['cars', 'revenueMinor', 'bayMinutes', 'perBayHourMinor'];
const estimateParts = ['records', 'plannedMinutes', 'workedMinutes', 'percent', 'fromPercent', 'toPercent', 'clear'];

/** Where the hours went, what they brought, and where their estimates were wrong. */
export function utilisationRoutes(app: Api, deps: ApiDeps): void {
  const orThis = (zone: string, monday: LocalDate | undefined) => monday ?? mondayIn(zone, deps.shop.clock());

  figuresRoute(app, {
    path: '/utilisation',
    operationId: 'getUtilisation',
    summary: "Where a week's bay hours and people's hours go, in minutes",
    querystring: WeekQuery,
    reply: WeekReply,
    read: ({ shopId, zone, query }) => weekUtilisation(deps.shop, { shopId, monday: orThis(zone, query.monday) }),
    tables: [
      {
        path: '/utilisation/bays.csv',
        operationId: 'getBayUtilisationCsv',
        summary: "A week's bay minutes as CSV",
        file: ({ monday }: WeekUtilisation) => `bays-${monday}`,
        columns: ['placeId', 'name', ...bayParts],
        rows: ({ bays }) => bays,
      },
      {
        path: '/utilisation/people.csv',
        operationId: 'getPeopleUtilisationCsv',
        summary: "A week's people minutes as CSV",
        file: ({ monday }: WeekUtilisation) => `people-${monday}`,
        columns: ['technicianId', 'name', 'open', 'worked', 'watched', 'free', 'overtime'],
        rows: ({ people }) => people,
      },
    ],
  });

  figuresRoute(app, {
    path: '/utilisation/weeks',
    operationId: 'getUtilisationByWeek',
    summary: 'All bays together, week by week, with the promises that fell due',
    querystring: TrendQuery,
    reply: TrendReply,
    read: async ({ shopId, zone, query }) => ({
      weeks: await weekTotals(deps.shop, { shopId, ...query, monday: orThis(zone, query.monday) }),
    }),
    tables: [
      {
        path: '/utilisation/weeks.csv',
        operationId: 'getUtilisationByWeekCsv',
        summary: 'All bays together, week by week, as CSV',
        file: ({ weeks }) => `weeks-${weeks[0]?.monday}`,
        columns: ['monday', ...bayParts, ...promiseParts],
        rows: ({ weeks }) => weeks,
      },
    ],
  });

  figuresRoute(app, {
    path: '/utilisation/revenue',
    operationId: 'getRevenue',
    summary: 'Revenue for each hour a bay was held, by recipe, of the cars picked up in some weeks',
    querystring: WeeksQuery,
    reply: RevenueReply,
    read: ({ shopId, zone, query }) =>
      revenueByRecipe(deps.shop, { shopId, ...query, monday: orThis(zone, query.monday) }),
    tables: [
      {
        path: '/utilisation/revenue.csv',
        operationId: 'getRevenueCsv',
        summary: 'Revenue by recipe as CSV',
        file: ({ firstMonday }: Revenue) => `revenue-from-${firstMonday}`,
        columns: ['recipeId', 'name', ...revenueParts],
        rows: ({ recipes }) => recipes,
      },
    ],
  });

  figuresRoute(app, {
    path: '/utilisation/estimates',
    operationId: 'getEstimateErrors',
    summary: 'Recorded against planned durations by kind of work, recipe and person, with intervals',
    querystring: WeeksQuery,
    reply: EstimatesReply,
    read: ({ shopId, zone, query }) =>
      estimateErrors(deps.shop, { shopId, ...query, monday: orThis(zone, query.monday) }),
    tables: [
      {
        path: '/utilisation/estimates.csv',
        operationId: 'getEstimateErrorsCsv',
        summary: 'Recorded against planned durations as CSV, a line for each kind, recipe and person',
        file: ({ firstMonday }: Estimates) => `estimates-from-${firstMonday}`,
        columns: ['by', 'id', 'name', ...estimateParts],
        rows: ({ kinds, recipes, people }) => [
          ...asRows('kind', kinds),
          ...asRows('recipe', recipes),
          ...asRows('person', people),
        ],
      },
    ],
  });
}

const asRows = (by: string, lines: readonly EstimateLine[]) =>
  lines.map((line) => ({
    ...line,
    by,
    percent: tenth(line.percent),
    fromPercent: tenth(line.fromPercent),
    toPercent: tenth(line.toPercent),
  }));

const tenth = (figure: number | null) => (figure === null ? null : Math.round(10 * figure) / 10);
