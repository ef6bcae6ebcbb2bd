import type { Shop } from '../../api/replies.ts';

export const weekdays = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'] as const;

interface Part {
  readonly from: string;
  readonly to: string;
}

/**
 * Opening hours of a calendar day: as the week has them or, where the day is an exception, what it has `instead`, with its `overtime`
 * and without what is `off`, which is the whole day where it names no part.
 */
export function hoursOf(shop: Pick<Shop, 'hours' | 'exceptions'>, date: string): readonly Part[] {
  const special = shop.exceptions.filter((each) => each.date === date);
  const of = (kind: (typeof special)[number]['kind']) => special.filter((each) => each.kind === kind);
  if (of('off').some(({ parts }) => parts.length === 0)) return [];
  const weekday = shop.hours[weekdays[new Date(`${date}T12:00:00Z`).getUTCDay()] ?? 'monday'] ?? [];
  const instead = of('instead');
  const ordinary = instead.length > 0 ? instead.flatMap(({ parts }) => parts) : weekday;
  const open = [...ordinary, ...of('overtime').flatMap(({ parts }) => parts)];
  return of('off')
    .flatMap(({ parts }) => parts)
    .reduce<readonly Part[]>((left, off) => left.flatMap((part) => without(part, off)), open);
}

/** What is left of a part of the day; clock times of one form compare as they are written. */
function without(part: Part, off: Part): Part[] {
  if (off.to <= part.from || off.from >= part.to) return [part];
  return [
    { from: part.from, to: off.from },
    { from: off.to, to: part.to },
  ].filter(({ from, to }) => from < to);
}
