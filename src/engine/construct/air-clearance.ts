import type { Book } from './book.ts';
import type { SpanModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';

/**
 * Minutes by which a span of air would have to begin later to keep clear of the other air in its zone; 0 when it is clear, or
 * absent, or void. What has begun judges nobody who has begun as well.
 */
export function airExcess(book: Book, plan: JobPlan, span: SpanModel): number {
  const { levels, shop } = book;
  if (plan.mode[span.from]! < 0 || plan.mode[span.to]! < 0 || plan.place[span.stage]! < 0) return 0;
  const { zone } = shop.places[plan.place[span.stage]!]!;
  const from = plan.edge(span.from, span.fromEnd);
  const to = plan.edge(span.to, span.toEnd);
  if (zone < 0 || to <= from) return 0;
  let excess = 0;
  for (const rule of shop.airRules(zone, span.label)) {
    const since = from - rule.settleBefore;
    const until = to + rule.settleAfter;
    const planned = levels.lastAbove(rule.planned, since, until, 0);
    const clear = span.begun ? planned : Math.max(planned, levels.lastAbove(rule.begun, since, until, 0));
    if (clear >= 0) excess = Math.max(excess, clear + rule.settleBefore - from);
  }
  return excess;
}
