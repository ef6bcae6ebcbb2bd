import type { Records, Store } from '../../src/store/store.ts';
import { Coating } from '../../src/trade/model/coating.ts';
import { Equipment } from '../../src/trade/model/equipment.ts';
import type { JobId, PlaceId, ShopId, TechnicianId } from '../../src/trade/model/ids.ts';
import { Job } from '../../src/trade/model/job.ts';
import { Technician } from '../../src/trade/model/people.ts';
import { Plan } from '../../src/trade/model/plan.ts';
import { Recipe } from '../../src/trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../src/trade/model/shop.ts';
import { Instant } from '../../src/trade/model/time.ts';

/** Documents for the store's tests: the least that the models accept. All of it is invented. */

export const HOUR = 3_600_000;
export const MONDAY = Date.UTC(2026, 2, 2);
/** Hours after Monday midnight UTC. */
export const at = (hours: number): Instant => Instant.parse(MONDAY + hours * HOUR);

const week = { monday: [{ from: '08:00', to: '17:00' }] };

export function aShop(id: string, change: Partial<Shop> = {}): Shop {
  return Shop.parse({
    id,
    name: 'Test studio',
    timeZone: 'Europe/Vienna',
    currency: 'EUR',
    hours: week,
    exceptions: [],
    filmFloorMicrometres: 80,
    polishingLimitMinutes: 330,
    moveMinutes: 10,
    inspectionAnswerMinutes: 120,
    promiseConfidencePercent: 90,
    finalInspectionFailurePercent: 10,
    labourRatePerHourMinor: 6_000,
    ...change,
  });
}

export function anAirZone(id: string): AirZone {
  return AirZone.parse({ id, name: `Room ${id}`, setPoint: { airTempC: 20, relativeHumidityPercent: 50 }, rules: [] });
}

export function aPlace(id: string, change: object = {}): Place {
  return Place.parse({
    id,
    name: `Bay ${id}`,
    kind: 'bay',
    capabilities: ['wet', 'correction'],
    indoor: true,
    maxLengthMm: 6_000,
    maxHeightMm: 2_500,
    airZoneId: null,
    turnaroundMinutes: 15,
    blockedBy: [],
    closures: [],
    ...change,
  });
}

export function aTechnician(id: string, change: object = {}): Technician {
  return Technician.parse({
    id,
    name: `Technician ${id}`,
    lead: false,
    skills: [{ skill: 'wash', level: 2 }],
    certificates: [],
    pacePercent: 100,
    shifts: week,
    exceptions: [],
    ...change,
  });
}

export function anEquipment(id: string, change: object = {}): Equipment {
  return Equipment.parse({
    id,
    name: `Lamp ${id}`,
    kind: 'infraRedLamp',
    count: 1,
    airZoneId: null,
    outOfOrder: false,
    ...change,
  });
}

export function aCoating(id: string): Coating {
  return Coating.parse({
    id,
    name: `Coating ${id}`,
    use: 'paint',
    dataSheet: {
      rows: [
        {
          tempC: 20,
          relativeHumidityPercent: 50,
          recoatMinMinutes: 60,
          recoatMaxMinutes: 240,
          dustSafeMinutes: 120,
          moveSafeMinutes: 180,
          waterSafeMinutes: 720,
          releaseSafeMinutes: 1_440,
          fullCureMinutes: 10_080,
        },
      ],
      cure: 'moisture',
      minAirTempC: 10,
      maxAirTempC: 30,
      minRelativeHumidityPercent: 30,
      maxRelativeHumidityPercent: 70,
      minDewPointMarginK: 3,
      maxPanelTempC: 35,
      flashSecondsFrom: 30,
      flashSecondsTo: 180,
      volumeSolidsPercent: 60,
      filmMicrometresPerLayer: 0.8,
      practicalLossPercent: 30,
      bottleMillilitres: 30,
      openBottleMinutes: 2_880,
      lampMinutesPerArea: 12,
    },
    stock: [{ millilitresLeft: 30, expiresOn: '2027-01-31', openedAt: null }],
    pricePerBottleMinor: 5_500,
  });
}

export function aRecipe(id: string, coatingId: string | null = null): Recipe {
  return Recipe.parse({
    id,
    name: `Recipe ${id}`,
    description: '',
    corrects: true,
    stays: [{ key: 'bay', needs: ['wet'], optional: false }],
    steps: [
      {
        key: 'wash',
        kind: 'contactWash',
        label: 'Contact wash',
        stay: 'bay',
        presence: { when: 'always' },
        attendance: { kind: 'handsOn' },
        crew: { size: 1, skill: 'wash', level: 1, certified: false, leadPreferred: false },
        equipment: [],
        duration: { by: 'minutes', minutes: 45 },
        coatingId,
        pausable: false,
        air: ['mist'],
        holdPoint: null,
      },
    ],
    lags: [],
    branches: [],
    airSpans: [],
    stills: [],
    basePriceMinor: 45_000,
    aftercare: ['No washing for a week.'],
  });
}

export function aJob(id: string, change: object = {}): Job {
  return Job.parse({
    id,
    state: 'booked',
    customer: { name: 'Ada Example', phone: '+00 555 0100', email: '' },
    vehicle: {
      class: 'compact',
      description: 'invented car',
      registration: 'KX 12-AB',
      colour: 'grey',
      lengthMm: 4_300,
      heightMm: 1_500,
      paintHardness: null,
      repaints: [],
    },
    condition: { soil: 1, defects: 2, brakeDust: 1, minerals: false, tar: false },
    recipeId: 'wash',
    addOns: [],
    priority: 1,
    earliestDropOff: at(8),
    dropOffAt: null,
    wantedPickupAt: null,
    promise: null,
    holdUntil: null,
    depositNote: '',
    arranged: null,
    inspection: null,
    scope: null,
    priceMinor: 45_000,
    notes: '',
    createdAt: at(0),
    version: 0,
    ...change,
  });
}

export interface PlannedVisit {
  readonly jobId: string;
  readonly placeId: string;
  readonly from: number;
  readonly to: number;
  readonly technicianId?: string;
}

/** A plan of one operation and one stay a visit; hours after Monday midnight. */
export function aPlan(version: number, visits: readonly PlannedVisit[]): Plan {
  return Plan.parse({
    version,
    madeAt: at(0),
    reason: `version ${version}`,
    objective: [{ tier: 'lateMinutes', value: 0, bound: 0 }],
    seed: 7,
    interrupted: false,
    operations: visits.map((visit) => ({
      jobId: visit.jobId,
      operation: 'wash',
      kind: 'contactWash',
      label: 'Contact wash',
      start: at(visit.from),
      end: at(visit.to),
      pieces: [{ from: at(visit.from), to: at(visit.to) }],
      placeId: visit.placeId,
      people: visit.technicianId ? [visit.technicianId] : [],
      sharePercent: 100,
      state: 'planned',
      remedy: false,
      windowClosesAt: null,
    })),
    stays: visits.map((visit) => ({ ...visitStretch(visit), jobId: visit.jobId })),
    jobs: visits.map((visit) => ({
      jobId: visit.jobId,
      dropOffAt: at(visit.from),
      readyAt: at(visit.to),
      pickupAt: at(visit.to),
      lateMinutes: 0,
    })),
  });
}

export function occupancyOf(visits: readonly PlannedVisit[]) {
  return visits.map((visit) => ({ ...visitStretch(visit), jobId: visit.jobId as JobId }));
}

function visitStretch(visit: PlannedVisit) {
  return { placeId: visit.placeId as PlaceId, from: at(visit.from), to: at(visit.to) };
}

let shopsMade = 0;

/** A shop nobody else in the test run has, with bays `bay1` and `bay2`, technician `ann`, recipe `wash`, jobs `j1` to `j3`. */
export async function stockedShop(store: Store): Promise<ShopId> {
  shopsMade += 1;
  const shop = aShop(`shop-${shopsMade}`);
  await store.transaction(shop.id, (records) => stock(records, shop));
  return shop.id;
}

async function stock(records: Records, shop: Shop): Promise<void> {
  await records.shops.put(shop, 'new');
  await records.airZones.put(shop.id, anAirZone('hall'), 'new');
  for (const id of ['bay1', 'bay2']) await records.places.put(shop.id, aPlace(id, { airZoneId: 'hall' }), 'new');
  await records.technicians.put(shop.id, aTechnician('ann'), 'new');
  await records.recipes.put(shop.id, aRecipe('wash'), 'new');
  for (const id of ['j1', 'j2', 'j3']) await records.jobs.put(shop.id, aJob(id), 'new');
}

export const jobId = (id: string) => id as JobId;
export const placeId = (id: string) => id as PlaceId;
export const technicianId = (id: string) => id as TechnicianId;
