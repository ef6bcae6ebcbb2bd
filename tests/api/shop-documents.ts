import { Coating } from '../../src/trade/model/coating.ts';
import { Equipment } from '../../src/trade/model/equipment.ts';
import { Technician } from '../../src/trade/model/people.ts';
import { Recipe } from '../../src/trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../src/trade/model/shop.ts';
import type { Instant } from '../../src/trade/model/time.ts';

/** Monday 2 March 2026, 09:00 in Berlin (UTC+1). */
export const monday9 = Date.parse('2026-03-02T08:00:00Z') as Instant;

const weekdays = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday'];
const eightToFive = Object.fromEntries(weekdays.map((day) => [day, [{ from: '08:00', to: '17:00' }]]));

/** An invented shop of one wash bay, one yard place and two people, in documents as the API takes them. */
export const shop = Shop.parse({
  id: 'invented',
  name: 'Invented Wash House',
  timeZone: 'Europe/Berlin',
  currency: 'EUR',
  hours: eightToFive,
  exceptions: [],
  filmFloorMicrometres: 80,
  polishingLimitMinutes: 330,
  moveMinutes: 10,
  inspectionAnswerMinutes: 120,
  promiseConfidencePercent: 90,
  finalInspectionFailurePercent: 10,
  labourRatePerHourMinor: 6000,
});

export const zone = AirZone.parse({
  id: 'hall',
  name: 'Hall',
  setPoint: { airTempC: 20, relativeHumidityPercent: 50 },
  rules: [
    {
      first: 'dust',
      second: 'openCoating',
      policy: 'forbid',
      settleAfterFirstMinutes: 30,
      settleAfterSecondMinutes: 0,
    },
  ],
});

export const bay = Place.parse({
  id: 'bay-1',
  name: 'Bay 1',
  kind: 'bay',
  capabilities: ['wet', 'interior'],
  indoor: true,
  maxLengthMm: 6000,
  maxHeightMm: 2500,
  airZoneId: 'hall',
  turnaroundMinutes: 15,
  blockedBy: [],
  closures: [],
});

export const yard = Place.parse({
  ...bay,
  id: 'yard-1',
  name: 'Yard 1',
  kind: 'parking',
  capabilities: ['hold'],
  indoor: false,
  airZoneId: null,
  turnaroundMinutes: 0,
});

const allSkills = [
  'intake',
  'wash',
  'decontamination',
  'wheels',
  'interior',
  'masking',
  'polishing',
  'coating',
  'inspection',
  'driving',
];

export const lead = Technician.parse({
  id: 'ada',
  name: 'Ada Invented',
  lead: true,
  skills: allSkills.map((skill) => ({ skill, level: 3 })),
  certificates: [],
  pacePercent: 100,
  shifts: eightToFive,
  exceptions: [],
});

export const washer = Technician.parse({ ...lead, id: 'bo', name: 'Bo Invented', lead: false, pacePercent: 100 });

export const hose = Equipment.parse({
  id: 'washer-1',
  name: 'Pressure washer',
  kind: 'pressureWasher',
  count: 1,
  airZoneId: 'hall',
  outOfOrder: false,
});

/** Figures invented for tests. */
export const coating = Coating.parse({
  id: 'clear-1',
  name: 'Invented clear coat',
  use: 'paint',
  dataSheet: {
    rows: [
      {
        tempC: 20,
        relativeHumidityPercent: 50,
        recoatMinMinutes: 60,
        recoatMaxMinutes: 240,
        dustSafeMinutes: 60,
        moveSafeMinutes: 120,
        waterSafeMinutes: 720,
        releaseSafeMinutes: 720,
        fullCureMinutes: 10080,
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
    filmMicrometresPerLayer: 1,
    practicalLossPercent: 30,
    bottleMillilitres: 50,
    openBottleMinutes: 10080,
    lampMinutesPerArea: 12,
  },
  stock: [{ millilitresLeft: 50, expiresOn: '2027-01-31', openedAt: null }],
  pricePerBottleMinor: 6000,
});

function step(key: string, kind: string, minutes: number, skill: string, more: object = {}) {
  return {
    key,
    kind,
    label: key,
    stay: 'bay',
    presence: { when: 'always' },
    attendance: { kind: 'handsOn' },
    crew: { size: 1, skill, level: 1, certified: false, leadPreferred: false },
    equipment: [],
    duration: { by: 'minutes', minutes },
    coatingId: null,
    pausable: false,
    air: [],
    holdPoint: null,
    ...more,
  };
}

/** A wash of three hours: short enough for a day, long enough for two to collide. */
export const wash = Recipe.parse({
  id: 'wash',
  name: 'Wash',
  description: 'Invented for tests',
  corrects: false,
  stays: [{ key: 'bay', needs: ['wet'], optional: false }],
  steps: [
    step('intake', 'intake', 20, 'intake'),
    step('foam', 'foamWash', 30, 'wash'),
    step('contact', 'contactWash', 60, 'wash', {
      equipment: [{ kind: 'pressureWasher', count: 1 }],
    }),
    step('dry', 'blowDry', 20, 'wash'),
    step('final', 'finalInspection', 20, 'inspection', { holdPoint: 'final' }),
    step('handover', 'handover', 30, 'intake'),
  ],
  lags: [],
  branches: [],
  airSpans: [],
  stills: [],
  basePriceMinor: 12000,
  aftercare: [],
});

/** What the desk asks for a car. */
export const booking = {
  customer: { name: 'Cora Invented', phone: '', email: 'cora@example.invalid' },
  vehicle: {
    class: 'compact',
    description: 'small hatchback',
    registration: 'TEST 1',
    colour: 'grey',
    lengthMm: 4100,
    heightMm: 1500,
    paintHardness: null,
    repaints: [],
  },
  condition: { soil: 1, defects: 1, brakeDust: 1, minerals: false, tar: false },
  recipeId: 'wash',
  earliestDropOff: '2026-03-02T09:00:00+01:00',
};
