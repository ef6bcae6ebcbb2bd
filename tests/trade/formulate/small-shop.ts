import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import type { Formulation } from '../../../src/trade/formulate/formulation.ts';
import { Coating } from '../../../src/trade/model/coating.ts';
import { Technician } from '../../../src/trade/model/people.ts';
import { Recipe } from '../../../src/trade/model/recipe.ts';
import { AirZone, Place, Shop } from '../../../src/trade/model/shop.ts';
import { at } from './a-job.ts';

/**
 * A shop (invented) small enough to reckon by hand: a wet bay, a coating bay, a covered space; Ada leads and coats, Bo
 * washes and polishes. Work from 08:00 to 12:00 and 12:30 to 17:00, Monday to Friday, in Berlin.
 */
export function smallShop(given: Partial<Book> = {}): Book {
  return {
    shop: Shop.parse({
      id: 'small',
      name: 'Small shop (invented)',
      timeZone: 'Europe/Berlin',
      currency: 'EUR',
      hours: weekdays([{ from: '08:00', to: '17:00' }]),
      exceptions: [],
      filmFloorMicrometres: 80,
      polishingLimitMinutes: 300,
      moveMinutes: 10,
      inspectionAnswerMinutes: 90,
      promiseConfidencePercent: 90,
      finalInspectionFailurePercent: 10,
      labourRatePerHourMinor: 6000,
    }),
    airZones: [
      AirZone.parse({
        id: 'hall',
        name: 'Hall',
        setPoint: { airTempC: 20, relativeHumidityPercent: 50 },
        rules: [
          {
            first: 'dust',
            second: 'openCoating',
            policy: 'forbid',
            settleAfterFirstMinutes: 60,
            settleAfterSecondMinutes: 0,
          },
          {
            first: 'mist',
            second: 'openCoating',
            policy: 'allowWithBarrier',
            settleAfterFirstMinutes: 15,
            settleAfterSecondMinutes: 0,
          },
        ],
      }),
    ],
    places: [
      aPlace('wetBay', ['wet']),
      aPlace('coatBay', ['coating', 'correction', 'curing']),
      aPlace('space', ['hold'], { kind: 'parking' }),
    ],
    technicians: [ada(), bo()],
    equipment: [],
    coatings: [aCoating()],
    recipes: [aRecipe()],
    jobs: [],
    events: [],
    readings: [],
    previousPlan: null,
    now: at('2026-06-01T05:00Z'),
    horizonDays: 7,
    ...given,
  };
}

const shift = [
  { from: '08:00', to: '12:00' },
  { from: '12:30', to: '17:00' },
];

export function weekdays(parts: readonly { from: string; to: string }[]) {
  return { monday: parts, tuesday: parts, wednesday: parts, thursday: parts, friday: parts };
}

export function aPlace(id: string, capabilities: readonly string[], given: Record<string, unknown> = {}): Place {
  return Place.parse({
    id,
    name: id,
    kind: 'bay',
    capabilities,
    indoor: true,
    maxLengthMm: 5500,
    maxHeightMm: 2200,
    airZoneId: 'hall',
    turnaroundMinutes: 15,
    blockedBy: [],
    closures: [],
    ...given,
  });
}

export function ada(given: Record<string, unknown> = {}): Technician {
  return aPerson('ada', ['intake', 'inspection', 'coating', 'driving'], {
    lead: true,
    certificates: [{ coatingId: 'coatX', expiresOn: '2030-12-31' }],
    ...given,
  });
}

export function bo(given: Record<string, unknown> = {}): Technician {
  return aPerson('bo', ['wash', 'polishing', 'driving'], given);
}

export function aPerson(id: string, skills: readonly string[], given: Record<string, unknown> = {}): Technician {
  return Technician.parse({
    id,
    name: id,
    lead: false,
    skills: skills.map((skill) => ({ skill, level: 2 })),
    certificates: [],
    pacePercent: 100,
    shifts: weekdays(shift),
    exceptions: [],
    ...given,
  });
}

/** Times at 20 deg C and 50 %, which is the hall's set point, so that they hold as they stand. */
export function aCoating(given: Record<string, unknown> = {}): Coating {
  return Coating.parse({
    id: 'coatX',
    name: 'Coating X (invented)',
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
          waterSafeMinutes: 480,
          releaseSafeMinutes: 600,
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
      flashSecondsFrom: 60,
      flashSecondsTo: 180,
      volumeSolidsPercent: 50,
      filmMicrometresPerLayer: 1,
      practicalLossPercent: 30,
      bottleMillilitres: 50,
      openBottleMinutes: 60,
      lampMinutesPerArea: 12,
      ...given,
    },
    stock: [],
    pricePerBottleMinor: 5000,
  });
}

export function aStep(key: string, kind: string, stay: string, minutes: number, given: Record<string, unknown> = {}) {
  const { skill = null, ...rest } = given;
  return {
    key,
    kind,
    label: key,
    stay,
    presence: { when: 'always' },
    attendance: { kind: 'handsOn' },
    crew: { size: 1, skill, level: 1, certified: false, leadPreferred: false },
    equipment: [],
    duration: { by: 'minutes', minutes },
    coatingId: null,
    pausable: false,
    air: [],
    holdPoint: null,
    ...rest,
  };
}

export const unattended = {
  attendance: { kind: 'unattended' },
  crew: { size: 0, skill: null, level: 1, certified: false, leadPreferred: false },
};

export function aLag(
  from: string,
  to: string,
  min: number,
  max: number | null = null,
  given: Record<string, unknown> = {},
) {
  const [fromStep, fromEdge] = from.split(' ');
  const [toStep, toEdge] = to.split(' ');
  return {
    from: { step: fromStep, edge: fromEdge },
    to: { step: toStep, edge: toEdge },
    min: { by: 'minutes', minutes: min },
    max: max === null ? null : { by: 'minutes', minutes: max },
    remedy: [],
    sameCrew: 'no',
    ...given,
  };
}

/** Intake, wash, wipe, coat, cure, final inspection, handover; a wipe is good for an hour. */
export function aRecipe(given: Record<string, unknown> = {}): Recipe {
  return Recipe.parse({
    id: 'small',
    name: 'Small coat (invented)',
    description: '',
    corrects: false,
    stays: [
      { key: 'wash', needs: ['wet'], optional: false },
      { key: 'coat', needs: ['coating'], optional: false },
    ],
    steps: [
      aStep('intake', 'intake', 'wash', 30, { skill: 'intake' }),
      aStep('wash', 'contactWash', 'wash', 60, { skill: 'wash' }),
      aStep('wipe', 'panelWipe', 'coat', 30, { skill: 'coating' }),
      aStep('rewipe', 'panelWipe', 'coat', 20, { skill: 'coating', presence: { when: 'remedy' } }),
      aStep('coat', 'coatLayer', 'coat', 60, {
        coatingId: 'coatX',
        crew: { size: 1, skill: 'coating', level: 2, certified: true, leadPreferred: false },
      }),
      aStep('cure', 'cure', 'coat', 0, {
        ...unattended,
        duration: { by: 'dataSheet', item: 'releaseSafe' },
        coatingId: 'coatX',
      }),
      aStep('finalInspection', 'finalInspection', 'coat', 20, { skill: 'inspection' }),
      aStep('handover', 'handover', 'coat', 30, { skill: 'intake' }),
    ],
    lags: [
      aLag('wipe end', 'coat start', 0, 60, { remedy: ['rewipe'], sameCrew: 'same' }),
      aLag('rewipe end', 'coat start', 0, 60),
    ],
    branches: [],
    airSpans: [{ label: 'openCoating', from: { step: 'wipe', edge: 'start' }, to: { step: 'cure', edge: 'end' } }],
    stills: [{ from: { step: 'wipe', edge: 'start' }, to: { step: 'cure', edge: 'end' } }],
    basePriceMinor: 0,
    aftercare: [],
    ...given,
  });
}

/** What a test asks of a formulation, by operation key. */
export function reader({ problem, operations, axis }: Formulation) {
  const index = (key: string) => {
    const found = operations.findIndex((operation) => operation.key === key);
    if (found < 0) throw new Error(`no operation ${key} among ${operations.map((one) => one.key).join(', ')}`);
    return found;
  };
  return {
    keys: operations.map(({ key }) => key as string),
    index,
    operation: (key: string) => problem.operations[index(key)]!,
    lags: (from: string, to: string): Problem['lags'] =>
      problem.lags.filter((lag) => lag.from.operation === index(from) && lag.to.operation === index(to)),
    minute: (iso: string) => axis.toMinute(at(iso), 'floor'),
    iso: (minute: number) => new Date(axis.toInstant(minute)).toISOString().slice(0, 16),
  };
}
