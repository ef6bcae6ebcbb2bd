import type { BookingRequest } from '../../../src/shop/booking/booking-request.ts';
import type { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import type { RaceShop } from './race-shop.ts';

/** One request of one client. */
export interface Attempt {
  readonly kind: Kind;
  readonly method: 'POST' | 'PATCH';
  /** After the shop's address. */
  readonly path: string;
  readonly body: unknown;
  /** What If-Match names, for what is changed at the version that others read too. */
  readonly ifMatch?: string;
  /** The same key as another attempt's: the same request, sent twice. */
  readonly key?: string;
}

export const KINDS = [
  'book, same place and time',
  'hold, same place and time',
  'book, hours of their own',
  'change notes',
  'move',
  'wish',
  'confirm or cancel',
  'replan',
  'same fact',
  'start the same work',
  'note',
] as const;
export type Kind = (typeof KINDS)[number];

/** Attempts that go off together, once what they need was read. */
export type Volley = (read: Reader) => Promise<readonly Attempt[]>;

/** Reads something of the shop, or makes it. */
export interface Reader {
  tagOf(path: string): Promise<string>;
  /** The job it makes or tells of, with its tag. */
  post(path: string, body: unknown): Promise<{ readonly jobId: string; readonly tag: string }>;
}

export const CARS = 6;
/** Attempts that the volleys of one shop make. */
export const A_SHOP = 100;

const iso = (at: Instant | null) => (at === null ? null : new Date(at).toISOString());

const onTheWire = (request: BookingRequest) => ({
  ...request,
  earliestDropOff: iso(request.earliestDropOff),
  wantedDropOffAt: iso(request.wantedDropOffAt),
  wantedPickupAt: iso(request.wantedPickupAt),
});

/** A hundred attempts on one shop, half of them on one place and time. */
export function volleysOf(shopId: ShopId, { request, at }: RaceShop): readonly Volley[] {
  const times = <T>(n: number, of: (k: number) => T) => Array.from({ length: n }, (_, k) => of(k));
  const slot = {
    request: onTheWire(request),
    dropOffAt: iso(at(1, '10:00')),
    pickupAt: iso(at(1, '13:00')),
  };
  const contested = times(50, (k): Attempt => {
    // One in ten is the one before sent again, as a client does whose connection broke.
    const key = `${shopId}-contested-${k % 10 === 9 ? k - 1 : k}`;
    const isHold = k % 10 >= 8;
    return isHold
      ? { kind: 'hold, same place and time', method: 'POST', path: '/holds', body: { ...slot, holdMinutes: 60 }, key }
      : { kind: 'book, same place and time', method: 'POST', path: '/jobs', body: slot, key };
  });
  const ofJob = (k: number) => `/jobs/standing-${k}`;
  const change = (kind: Kind, job: number, body: (k: number) => object): Volley => {
    return async (read) => {
      const ifMatch = await read.tagOf(ofJob(job));
      return times(5, (k) => ({ kind, method: 'PATCH', path: ofJob(job), body: body(k), ifMatch }));
    };
  };
  const hours = ['09:30', '11:00', '13:00', '14:30', '15:30'] as const;
  const ownHour = (k: number) => ({ ...slot, dropOffAt: iso(at(8 + k, '09:00')), pickupAt: null });
  const arrived = () => ({
    clientId: `${shopId}-arrived`,
    occurredAt: new Date().toISOString(),
    fact: { kind: 'arrived', placeId: 'yard1' },
  });
  const facts = `${ofJob(5)}/floor-events`;
  const start = `${ofJob(5)}/operations/intake/start`;
  return [
    async () => contested,
    change('change notes', 1, (k) => ({ notes: `${shopId} as client ${k} has it` })),
    change('change notes', 2, (k) => ({ notes: `${shopId} as client ${k} has it` })),
    change('move', 3, (k) => ({ dropOffAt: iso(at(4, hours[k]!)), pickupAt: null })),
    change('move', 4, (k) => ({ dropOffAt: iso(at(5, hours[k]!)), pickupAt: null })),
    async (read) => {
      const ifMatch = await read.tagOf('/plan');
      const wish = (k: number) => ({
        whatIf: { jobId: 'standing-6', operation: 'maintenanceWash', notBefore: iso(at(7, hours[k]!)) },
      });
      return times(5, (k) => ({ kind: 'wish', method: 'POST', path: '/wishes', body: wish(k), ifMatch }));
    },
    async (read) => {
      const held = await read.post('/holds', { ...ownHour(6), holdMinutes: 60 });
      return times(5, (k) => {
        const path = `/jobs/${held.jobId}/${k % 2 === 0 ? 'confirm' : 'cancel'}`;
        const body = k % 2 === 0 ? undefined : { note: '' };
        return { kind: 'confirm or cancel', method: 'POST', path, body, ifMatch: held.tag };
      });
    },
    async () => times(5, () => ({ kind: 'replan', method: 'POST', path: '/plan/replans', body: { reason: 'race' } })),
    async () =>
      times(5, (k) => ({ kind: 'book, hours of their own', method: 'POST', path: '/jobs', body: ownHour(k) })),
    async () => times(5, () => ({ kind: 'same fact', method: 'POST', path: facts, body: arrived() })),
    async (read) => {
      await read.post(facts, arrived());
      const body = (k: number) => ({ by: ['ash'], clientId: `${shopId}-start-${k}` });
      return times(5, (k) => ({ kind: 'start the same work', method: 'POST', path: start, body: body(k) }));
    },
  ];
}

/** Facts told one after another by so many devices, each its own. */
export function notesOf(shopId: ShopId, devices: number, each: number): Volley[] {
  return Array.from({ length: devices }, (_, device): Volley => {
    const path = `/jobs/standing-${(device % CARS) + 1}/floor-events`;
    const body = (k: number) => ({
      clientId: `${shopId}-note-${device}-${k}`,
      occurredAt: new Date().toISOString(),
      fact: { kind: 'noted', operation: null, text: `seen by ${device}, ${k}` },
    });
    return async () => Array.from({ length: each }, (_, k) => ({ kind: 'note', method: 'POST', path, body: body(k) }));
  });
}
