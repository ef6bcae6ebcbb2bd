import { BookingRequest } from '../../src/shop/booking/booking-request.ts';
import { demo } from '../seed/demo-shop.ts';
import { MONDAY_8 } from './a-shop.ts';

/** A booking request for an invented customer. */
export function aRequest(recipeId: string, more: Partial<BookingRequest> = {}): BookingRequest {
  const { customer, vehicle } = demo.book[0]!;
  return BookingRequest.parse({
    customer,
    vehicle,
    condition: { soil: 1, defects: 1, brakeDust: 0, minerals: false, tar: false },
    recipeId,
    earliestDropOff: MONDAY_8,
    ...more,
  });
}
