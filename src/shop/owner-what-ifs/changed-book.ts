import type { Book } from '../../trade/formulate/book.ts';
import { EquipmentId, PlaceId, TechnicianId } from '../../trade/model/ids.ts';
import type { DayPart, WeeklyHours } from '../../trade/model/time.ts';
import type { WhatIfChange } from './what-if.ts';

/** The bay and the person that another one would be like. */
export interface Tightest {
  readonly bay: string | null;
  readonly person: string | null;
}

/** A book with one thing added, and what it is like; null when there is nothing to copy or it is there already. */
export function changedBook(
  book: Book,
  change: WhatIfChange,
  tightest: Tightest,
): { readonly book: Book; readonly like: string } | null {
  switch (change) {
    case 'bay': {
      const like = book.places.find((place) => place.id === tightest.bay);
      if (like === undefined) return null;
      const another = { ...like, id: PlaceId.parse('whatIfBay'), name: `another ${like.name}`, blockedBy: [] };
      return { book: { ...book, places: [...book.places, another] }, like: like.name };
    }
    case 'person': {
      const like = book.technicians.find((person) => person.id === tightest.person);
      if (like === undefined) return null;
      const another = { ...like, id: TechnicianId.parse('whatIfPerson'), name: `another ${like.name}`, lead: false };
      return { book: { ...book, technicians: [...book.technicians, another] }, like: like.name };
    }
    case 'lamp':
      return { book: withAnotherLamp(book), like: '' };
    case 'saturday':
      return withSaturday(book);
  }
}

function withAnotherLamp(book: Book): Book {
  const lamps = book.equipment.find(({ kind, outOfOrder }) => kind === 'infraRedLamp' && !outOfOrder);
  if (lamps !== undefined) {
    const more = { ...lamps, count: lamps.count + 1 };
    return { ...book, equipment: book.equipment.map((each) => (each === lamps ? more : each)) };
  }
  const first = {
    id: EquipmentId.parse('whatIfLamp'),
    name: 'Infra-red lamp',
    kind: 'infraRedLamp' as const,
    count: 1,
    airZoneId: null,
    outOfOrder: false,
  };
  return { ...book, equipment: [...book.equipment, first] };
}

/** Saturdays as long as Fridays, for the shop and for everybody who works on Fridays. */
function withSaturday(book: Book): { readonly book: Book; readonly like: string } | null {
  const hours = book.shop.hours.friday ?? [];
  if (hours.length === 0 || minutesOf(hours) <= minutesOf(book.shop.hours.saturday ?? [])) return null;
  const like = hours.map(({ from, to }) => `${from}–${to}`).join(', ');
  const longer = (weekly: WeeklyHours): WeeklyHours =>
    minutesOf(weekly.friday ?? []) > minutesOf(weekly.saturday ?? [])
      ? { ...weekly, saturday: weekly.friday ?? [] }
      : weekly;
  return {
    book: {
      ...book,
      shop: { ...book.shop, hours: longer(book.shop.hours) },
      technicians: book.technicians.map((each) => ({ ...each, shifts: longer(each.shifts) })),
    },
    like,
  };
}

function minutesOf(parts: readonly DayPart[]): number {
  const minute = (clock: string) => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));
  return parts.reduce((sum, { from, to }) => sum + minute(to) - minute(from), 0);
}
