import type { Shop } from '../../api/replies.ts';

export const weekdays = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'] as const;

/** Opening hours of a calendar day, as the week has them. */
export function hoursOf(shop: Shop, date: string): readonly { from: string; to: string }[] {
  return shop.hours[weekdays[new Date(`${date}T12:00:00Z`).getUTCDay()] ?? 'monday'] ?? [];
}
