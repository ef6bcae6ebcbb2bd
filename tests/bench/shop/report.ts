import { compareTiers } from '../../../src/engine/improve/tiers.ts';
import type { Objective } from '../../../src/engine/problem/solution.ts';
import { figure, markdownTable } from '../figures/markdown-table.ts';
import { median, quantile } from '../figures/quantile.ts';
import { logLogSlope } from '../figures/slope.ts';
import type { BookFigures, PlanFigures } from './measure-book.ts';
import type { SizeFigures } from './run-size.ts';

const TIERS = ['broken', 'tardiness', 'overtime', 'lead'] as const;

/** Time to the first plan and memory, one line a size. */
export function sizesTable(sizes: readonly SizeFigures[]): string {
  const head = [
    'jobs',
    'bays / people',
    'operations',
    'formulate ms',
    'first plan ms (median)',
    'worst',
    'no plan',
    'peak MB (process)',
    'before MB',
  ];
  const rows = sizes.map(({ jobs, copies, books, peakMegabytes, baseMegabytes }) => {
    const first = books.map((book) => book.first.ms);
    return [
      String(jobs),
      `${4 * copies} / ${5 * copies}`,
      figure(Math.round(median(books.map((book) => book.operations)))),
      figure(median(books.map((book) => book.formulateMs))),
      figure(median(first)),
      figure(quantile(first, 1)),
      `${books.filter((book) => book.first.objective === null).length} of ${books.length}`,
      figure(Math.round(peakMegabytes)),
      figure(Math.round(baseMegabytes)),
    ];
  });
  return markdownTable(head, rows);
}

/** Tiers of each way of planning, as medians over the books that it planned. */
export function plansTable(sizes: readonly SizeFigures[]): string {
  const head = [
    'jobs',
    'plan',
    'planned',
    ...TIERS,
    'broken, bound',
    'tardiness, bound',
    'lead over bound %',
    'violations',
  ];
  const rows = sizes.flatMap((size) => [
    line(size, 'first', (book) => book.first),
    ...size.seconds.map((limit, k) => line(size, `after ${limit} s`, (book) => book.after[k]!)),
    line(size, 'by earliest promise', (book) => book.rules['earliest promise']),
    line(size, 'by bottleneck work', (book) => book.rules['bottleneck work']),
  ]);
  return markdownTable(head, rows);
}

function line({ jobs, books }: SizeFigures, name: string, planOf: (book: BookFigures) => PlanFigures): string[] {
  const planned = books.flatMap((book) => {
    const { objective } = planOf(book);
    return objective === null ? [] : [{ objective, bound: book.bound }];
  });
  const tier = (k: number) => figure(median(planned.map(({ objective }) => objective[k]!)));
  const bound = (k: number) => figure(median(planned.map((each) => each.bound[k]!)));
  const gap = planned.map(({ objective, bound }) => (100 * (objective[3]! - bound[3]!)) / Math.max(1, bound[3]!));
  return [
    String(jobs),
    name,
    `${planned.length} of ${books.length}`,
    ...TIERS.map((_, k) => tier(k)),
    bound(0),
    bound(1),
    figure(median(gap)),
    String(books.reduce((sum, book) => sum + planOf(book).violations, 0)),
  ];
}

/** Against the better of the two rules, book by book: what is saved where the book is loaded, and where a rule did better. */
export function rulesTable(sizes: readonly SizeFigures[]): string {
  const head = [
    'jobs',
    'plan',
    'loaded',
    'less tardiness %',
    'less lead %',
    'of all, worse than a rule',
    'no plan yet',
  ];
  const rows = sizes.flatMap((size) =>
    [(book: BookFigures) => book.first, ...size.seconds.map((_, k) => (book: BookFigures) => book.after[k]!)].map(
      (planOf, k) => againstRules(size, k === 0 ? 'first' : `after ${size.seconds[k - 1]} s`, planOf),
    ),
  );
  return markdownTable(head, rows);
}

/** A book is loaded when the better rule leaves so many of its jobs late. */
const LOADED_SHARE = 0.2;

function againstRules(
  { jobs, books }: SizeFigures,
  name: string,
  planOf: (book: BookFigures) => PlanFigures,
): string[] {
  const pairs = books.flatMap((book) => {
    const ruled = Object.values(book.rules).filter(({ objective }) => objective !== null);
    ruled.sort((a, b) => compareTiers(a.objective!, b.objective!));
    const plan = planOf(book).objective;
    return ruled.length === 0 || plan === null ? [] : [{ plan, rule: ruled[0]! }];
  });
  const loaded = pairs.filter(({ rule }) => rule.late >= LOADED_SHARE * jobs);
  const saved = (tier: number) => {
    const total = (of: (pair: (typeof pairs)[number]) => Objective) =>
      loaded.reduce((sum, pair) => sum + of(pair)[tier]!, 0);
    return figure(100 - (100 * total(({ plan }) => plan)) / total(({ rule }) => rule.objective!));
  };
  return [
    String(jobs),
    name,
    `${loaded.length} of ${pairs.length}`,
    saved(1),
    saved(3),
    String(pairs.filter(({ plan, rule }) => compareTiers(plan, rule.objective!) > 0).length),
    String(books.length - pairs.length),
  ];
}

/** How the time to the first plan grows from 200 jobs on: in the same shop, or in one that grows with them. */
export function firstPlanSlope(sizes: readonly SizeFigures[], growing: boolean): string {
  const large = sizes.filter(({ jobs, copies }) => jobs >= 200 && (growing || copies === sizes.at(-1)!.copies));
  const points = large.map(({ jobs, books }) => ({ x: jobs, y: median(books.map((book) => book.first.ms)) }));
  if (points.length < 2) return 'Growth of the time to the first plan: needs two sizes of 200 jobs or more.';
  const [from, to] = [points[0]!.x, points.at(-1)!.x];
  return `Time to the first plan from ${from} to ${to} jobs grows as jobs^${figure(logLogSlope(points))}${growing ? ', bays and people with them' : ''}.`;
}

export function violationsOf(sizes: readonly SizeFigures[]): number {
  const plans = sizes
    .flatMap(({ books }) => books)
    .flatMap(({ first, after, rules }) => [first, ...after, ...Object.values(rules)]);
  return plans.reduce((sum, plan) => sum + plan.violations, 0);
}
