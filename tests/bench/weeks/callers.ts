import type { BookingRequest } from '../../../src/shop/booking/booking-request.ts';
import { confirm } from '../../../src/shop/booking/confirm.ts';
import { hold } from '../../../src/shop/booking/hold.ts';
import { quote } from '../../../src/shop/booking/quote.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeBookings } from '../books/bookings.ts';
import type { Luck } from './luck.ts';
import type { VirtualShop } from './virtual-shop.ts';

/** Somebody who will ask for a slot. */
export interface Call {
  readonly at: Instant;
  readonly request: BookingRequest;
}

export interface Calls {
  asked: number;
  sold: number;
  /** By what was said. */
  readonly refused: Map<string, number>;
  readonly daysAhead: number[];
}

const MINUTE = 60_000;
const DAY = 1440 * MINUTE;

/** Calls of some weeks, each some days before the car could come, in opening hours, in order. */
export function callsOf(shop: VirtualShop, count: number, seed: number, luck: Luck, begin: Instant): Call[] {
  const requests = makeBookings(shop.data, 1, count, seed, begin);
  return requests
    .map((request, k): Call => {
      const daysBefore = luck.whole(`caller ${k} days`, 1, 7);
      const at = request.earliestDropOff - daysBefore * DAY + luck.whole(`caller ${k} minute`, 0, 300) * MINUTE;
      return { at: Math.max(at, begin + k * 3 * MINUTE) as Instant, request };
    })
    .sort((a, b) => a.at - b.at);
}

/** A call as the desk takes it: a quote, one of its choices held, and the hold confirmed. */
export async function takeCall({ deps, shopId }: VirtualShop, calls: Calls, call: Call, luck: Luck): Promise<void> {
  const name = call.request.vehicle.registration;
  const request = {
    ...call.request,
    earliestDropOff: Math.max(call.request.earliestDropOff, call.at + 30 * MINUTE) as Instant,
  };
  calls.asked += 1;
  try {
    const { choices, planVersion } = await quote(deps, { shopId, request });
    const choice = choices[Math.min(choices.length - 1, luck.whole(`${name} chooses`, 0, 3))] ?? choices[0]!;
    const { dropOffAt, pickupAt } = choice;
    const held = await hold(deps, {
      shopId,
      request,
      dropOffAt,
      pickupAt,
      planVersion,
      depositNote: '',
      holdMinutes: 15,
    });
    await confirm(deps, { shopId, jobId: held.job.id, expectedVersion: held.job.version });
    calls.sold += 1;
    calls.daysAhead.push((dropOffAt - call.at) / DAY);
  } catch (problem) {
    const said = String(problem).slice(0, 160);
    calls.refused.set(said, (calls.refused.get(said) ?? 0) + 1);
  }
}
