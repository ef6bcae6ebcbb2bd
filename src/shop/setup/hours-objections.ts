import type { DayException, DayPart, WeeklyHours } from '../../trade/model/time.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** What in hours contradicts itself: parts of a day that overlap, two exceptions of one kind on a day, an absence with hours. */
export function hoursObjections(
  week: WeeklyHours,
  weekField: string,
  exceptions: readonly DayException[],
  exceptionsField: string,
): Objection[] {
  const objections: Objection[] = [];
  for (const [weekday, parts] of Object.entries(week)) objections.push(...overlaps(parts, `${weekField}.${weekday}`));
  const seen = new Set<string>();
  exceptions.forEach((exception, at) => {
    const field = `${exceptionsField}.${at}`;
    objections.push(...overlaps(exception.parts, `${field}.parts`));
    const day = `${exception.date} ${exception.kind === 'overtime' ? 'overtime' : 'day'}`;
    if (seen.has(day)) {
      objections.push({
        rule: 'oneExceptionADay',
        field: `${field}.date`,
        text: `${exception.date} has another exception already.`,
      });
    }
    seen.add(day);
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
