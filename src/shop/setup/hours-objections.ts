import type { DayException, DayPart, WeeklyHours } from '../../trade/model/time.ts';
import type { Objection } from '../problems/shop-problem.ts';

/**
 * What in hours contradicts itself: parts of a day that overlap, a day
 * whose hours are replaced twice, overtime without hours. Time off may be given more than once a day: it adds up.
 */
export function hoursObjections(
  week: WeeklyHours,
  weekField: string,
  exceptions: readonly DayException[],
  exceptionsField: string,
): Objection[] {
  const objections: Objection[] = [];
  for (const [weekday, parts] of Object.entries(week)) objections.push(...overlaps(parts, `${weekField}.${weekday}`));
  const replaced = new Set<string>();
  exceptions.forEach((exception, at) => {
    const field = `${exceptionsField}.${at}`;
    objections.push(...overlaps(exception.parts, `${field}.parts`));
    if (exception.kind === 'instead') {
      if (replaced.has(exception.date)) {
        objections.push({
          rule: 'oneInsteadADay',
          field: `${field}.date`,
          text: `The hours of ${exception.date} are replaced already.`,
        });
      }
      replaced.add(exception.date);
    }
    if (exception.kind === 'overtime' && exception.parts.length === 0) {
      objections.push({
        rule: 'overtimeHasHours',
        field: `${field}.parts`,
        text: `The overtime on ${exception.date} has no hours.`,
      });
    }
  });
  return objections;
}

function overlaps(parts: readonly DayPart[], field: string): Objection[] {
  return parts.flatMap((part, at) =>
    parts.slice(0, at).some((other) => part.from < other.to && other.from < part.to)
      ? [
          {
            rule: 'partsApart',
            field: `${field}.${at}`,
            text: `${part.from}-${part.to} overlaps another part of the day.`,
          },
        ]
      : [],
  );
}
