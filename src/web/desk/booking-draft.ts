import type { BookingRequest, Job, PanelName } from '../../api/replies.ts';
import { daysAfter, instantAt, localDateOf } from '../time/format.ts';

export interface Repaint {
  readonly panel: PanelName;
  readonly paintedOn: string;
  readonly painterCleared: boolean;
}

/** What the desk has typed so far; text, as inputs hold it. */
export interface BookingDraft {
  readonly name: string;
  readonly phone: string;
  readonly email: string;
  readonly registration: string;
  readonly description: string;
  readonly colour: string;
  readonly class: string;
  readonly lengthMm: string;
  readonly heightMm: string;
  readonly hardness: string;
  readonly soil: string;
  readonly brakeDust: string;
  readonly defects: string;
  readonly minerals: boolean;
  readonly tar: boolean;
  readonly recipeId: string;
  readonly addOns: readonly string[];
  readonly earliestDay: string;
  readonly earliestTime: string;
  readonly wantedDay: string;
  readonly wantedTime: string;
  readonly priority: string;
  readonly repaints: readonly Repaint[];
  /** Who takes the keys, or hands them back, outside opening hours; empty: nobody. */
  readonly dropOffBy: string;
  readonly pickupBy: string;
  readonly notes: string;
}

/** Length and height of an ordinary car of each class, in millimetres, to start from; common practice. */
const sizes: Record<string, readonly [string, string]> = {
  city: ['3700', '1500'],
  compact: ['4300', '1470'],
  saloon: ['4800', '1450'],
  estate: ['4850', '1480'],
  suv: ['4750', '1680'],
  van: ['5100', '1950'],
  coupe: ['4500', '1320'],
};

export const vehicleClasses = Object.keys(sizes);

export function newDraft(zone: string): BookingDraft {
  return {
    name: '',
    phone: '',
    email: '',
    registration: '',
    description: '',
    colour: '',
    ...ofClass('saloon'),
    hardness: '',
    soil: '2',
    brakeDust: '2',
    defects: '2',
    minerals: false,
    tar: false,
    recipeId: '',
    addOns: [],
    earliestDay: daysAfter(localDateOf(zone, Date.now()), 1),
    earliestTime: '08:00',
    wantedDay: '',
    wantedTime: '16:00',
    priority: '1',
    repaints: [],
    dropOffBy: '',
    pickupBy: '',
    notes: '',
  };
}

/** The class with the size its cars commonly have. */
export function ofClass(vehicleClass: string): Pick<BookingDraft, 'class' | 'lengthMm' | 'heightMm'> {
  const [lengthMm, heightMm] = sizes[vehicleClass] ?? ['4800', '1450'];
  return { class: vehicleClass, lengthMm, heightMm };
}

/** Customer and car of an earlier job, for one that comes again. */
export function asBefore(job: Job): Partial<BookingDraft> {
  const { customer, vehicle } = job;
  return {
    name: customer.name,
    phone: customer.phone,
    email: customer.email,
    registration: vehicle.registration,
    description: vehicle.description,
    colour: vehicle.colour,
    class: vehicle.class,
    lengthMm: String(vehicle.lengthMm),
    heightMm: String(vehicle.heightMm),
    hardness: vehicle.paintHardness ?? '',
  };
}

/** The request the API takes. What is wrong with it, the server says. */
export function requestOf(draft: BookingDraft, zone: string): BookingRequest {
  const comes = instantAt(zone, draft.earliestDay, draft.earliestTime);
  const isArranged = draft.dropOffBy !== '' || draft.pickupBy !== '';
  return {
    customer: { name: draft.name, phone: draft.phone, email: draft.email },
    vehicle: {
      class: draft.class as BookingRequest['vehicle']['class'],
      description: draft.description,
      registration: draft.registration,
      colour: draft.colour,
      lengthMm: Number(draft.lengthMm),
      heightMm: Number(draft.heightMm),
      paintHardness: (draft.hardness === '' ? null : draft.hardness) as BookingRequest['vehicle']['paintHardness'],
      repaints: draft.repaints.map((each) => ({ ...each })),
    },
    condition: {
      soil: Number(draft.soil),
      defects: Number(draft.defects),
      brakeDust: Number(draft.brakeDust),
      minerals: draft.minerals,
      tar: draft.tar,
    },
    recipeId: draft.recipeId,
    addOns: [...draft.addOns] as BookingRequest['addOns'],
    priority: Number(draft.priority),
    earliestDropOff: comes,
    // Somebody who waits at the door waits for an hour, not for any.
    wantedDropOffAt: draft.dropOffBy === '' ? null : comes,
    wantedPickupAt: draft.wantedDay === '' ? null : instantAt(zone, draft.wantedDay, draft.wantedTime),
    arranged: isArranged ? { dropOffBy: draft.dropOffBy || null, pickupBy: draft.pickupBy || null } : null,
    notes: draft.notes,
  };
}
