import type { Stage, StageLine } from '../../../shop/customer/stages.ts';
import type { Visit } from '../../../shop/customer/visit.ts';
import type { JobState } from '../../../trade/model/job.ts';
import type { AddOn } from '../../../trade/model/recipe.ts';

/** Everything the customer's page says. Dates and amounts come in words already. */
export const pageWords = {
  title: (car: string, shop: string) => `${car} · ${shop}`,
  skip: 'Skip to your car',
  states: {
    held: 'Held for you, not yet booked',
    booked: 'Booked',
    inShop: 'Your car is with us',
    done: 'Fetched. Thank you',
    cancelled: 'The booking is cancelled',
    noShow: 'We did not see your car',
    lapsed: 'No longer held: its time ran out',
  } satisfies Record<JobState, string>,
  ready: 'Ready for you',
  heldUntil: (when: string) => `Held until ${when}.`,
  stages: {
    arrival: 'Taken in and photographed',
    washing: 'Washed and decontaminated',
    inspection: 'Looked at on clean paint',
    answer: 'Your answer',
    polishing: 'Polished',
    film: 'Film laid',
    interior: 'Inside cleaned',
    coating: 'Coated',
    curing: 'Curing, not to be touched',
    checking: 'Checked in good light',
    pickup: 'Handed over to you',
  } satisfies Record<Stage, string>,
  progress: { done: 'done', now: 'under way', later: 'to come' } satisfies Record<StageLine['progress'], string>,
  addOns: {
    film: 'film',
    interior: 'interior',
    glass: 'glass coating',
    wheels: 'wheel coating',
    trim: 'trim coating',
  } satisfies Record<AddOn, string>,
  times: {
    heading: 'When',
    dropOff: 'Drop-off',
    pickup: 'Pickup',
    from: (when: string, until: string | null) => (until === null ? `from ${when}` : `from ${when} until ${until}`),
    none: 'We tell you the pickup hour as soon as we can promise it.',
    changed: (when: string) => `We told you new times on ${when}.`,
    before: (what: string, when: string) => `${what} before: ${when}`,
    calendar: 'Put it into your calendar (file .ics)',
  },
  work: {
    heading: 'What is done, and the price',
    with: (addOns: string) => `With it: ${addOns}.`,
    price: 'Price',
    priceAsBooked: 'Price as booked',
    spared: (panels: string) => `Not polished, because the paint is too thin there: ${panels}.`,
    stages: 'How far it is',
  },
  question: {
    heading: 'A question for you',
    found: 'We have washed your car and looked at the clean paint. It needs more correction than was booked.',
    passes: (passes: number, booked: number) =>
      `We suggest ${count(passes)} with the machine where ${count(booked)} ${booked === 1 ? 'was' : 'were'} booked.`,
    until: (when: string) => `Please answer by ${when}. Without an answer we do what was booked.`,
    later: 'Should a yes move your pickup, we tell you so; until then the pickup on this page holds.',
    yes: (price: string) => `Yes, do more, for ${price}`,
    no: (price: string) => `No, as booked, for ${price}`,
    over: 'The time to answer is over. We do what was booked; call us if that is wrong.',
    settled: {
      approved: 'You said yes to more correction.',
      declined: 'You said no: we do what was booked.',
      defaulted: 'What was booked is done.',
      awaited: '',
    } satisfies Record<NonNullable<Visit['scope']>['answer'], string>,
  },
  aftercare: {
    heading: 'Afterwards',
    dry: 'Keep it dry until',
    wash: 'First wash not before',
    better: 'Better not before',
    cured: 'Fully hard from about',
    expected: 'Reckoned from the plan; the hours are set when the last layer is on.',
    rain: 'If rain or bird droppings fall on it before, dab them off with a soft cloth.',
    strong: 'Until it is fully hard: no washing machine, no strong cleaner, no polish.',
    cold: 'Cold and dry weather slow a coating down: give it longer then.',
    sheet:
      'These times follow the coating’s data sheet as the shop keeps it. Where the maker’s own data sheet asks for more, it comes first; ask us for the safety data sheet if you want to read it.',
  },
  contact: { heading: 'Questions?', call: 'Call', where: 'Where' },
  foot: 'Only whoever has this link sees this page. Do not pass it on: it also lets answer for you.',
  told: {
    gone: {
      heading: 'This link opens nothing',
      text: 'It may have been replaced by a newer one, or its time is over. Ask the shop for the link to your car.',
    },
    tooMany: { heading: 'Please wait a minute', text: 'This was asked too often in a short time. Try again shortly.' },
    fault: {
      heading: 'Something went wrong on our side',
      text: 'Please try again in a moment, or call the shop.',
    },
    notNow: { heading: 'That did not work', back: 'Back to your car' },
  },
};

function count(passes: number): string {
  return passes === 1 ? '1 pass' : `${passes} passes`;
}
