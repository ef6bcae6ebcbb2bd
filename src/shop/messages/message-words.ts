import type { MessageKind } from '../../trade/model/customer-message.ts';

/** What the texts are filled with, in words already: dates in the shop's zone and locale, amounts in its currency. */
export interface MessageFacts {
  readonly customer: string;
  readonly shop: string;
  readonly phone: string;
  readonly address: string;
  readonly car: string;
  readonly service: string;
  readonly dropOff: string;
  readonly pickup: string;
  readonly price: string;
  /** The question after the inspection; empty where there is none. */
  readonly scope: { readonly price: string; readonly answerBy: string; readonly spared: string } | null;
  readonly aftercare: {
    readonly dryUntil: string;
    readonly firstWash: string;
    readonly betterFirstWash: string;
    readonly fullyCured: string;
  } | null;
  readonly advice: readonly string[];
  /** Address of the customer's page; empty when there is none. */
  readonly link: string;
}

interface Text {
  readonly subject: (facts: MessageFacts) => string;
  /** Paragraphs; those that come out empty are left out. */
  readonly body: (facts: MessageFacts) => readonly string[];
}

/** Under every text about a coating: what outranks it. */
const DATA_SHEET_FIRST =
  'These times follow the coating’s data sheet as we keep it. Where the maker’s own data sheet asks for more, it comes first.';

const aftercare = ({ aftercare: times, advice }: MessageFacts): string[] => [
  times === null
    ? ''
    : [
        `Keep it dry until ${times.dryUntil}. If rain or bird droppings fall on it before, dab them off with a soft cloth.`,
        `No wash before ${times.firstWash}; better not before ${times.betterFirstWash}. By hand, with a neutral soap.`,
        `It is fully hard from about ${times.fullyCured}: until then no washing machine, no strong cleaner, no polish.`,
      ].join('\n'),
  advice.map((each) => `– ${each}`).join('\n'),
  times === null ? '' : DATA_SHEET_FIRST,
];

/** Every text to a customer. */
export const messageTexts: Record<MessageKind, Text> = {
  booked: {
    subject: ({ shop, dropOff }) => `${shop}: your booking, ${dropOff}`,
    body: ({ car, service, dropOff, pickup, price }) => [
      `Your ${car} is booked for ${service}.`,
      [`Please bring it: ${dropOff}.`, pickup && `Ready for pickup: ${pickup}.`, `Price: ${price}.`]
        .filter(Boolean)
        .join('\n'),
      'We look at the paint once it is clean. Should it need more than was booked, we ask you first.',
    ],
  },
  reminder: {
    subject: ({ shop, dropOff }) => `${shop}: we expect you ${dropOff}`,
    body: ({ car, dropOff, address, pickup }) => [
      `We expect your ${car}: ${dropOff}.`,
      address && `Where: ${address}`,
      pickup && `Ready for pickup: ${pickup}.`,
      'Please take out what you need; if you cannot come, tell us in time.',
    ],
  },
  scope: {
    subject: ({ shop, scope }) => `${shop}: a question about your car${scope ? `, until ${scope.answerBy}` : ''}`,
    body: ({ car, scope, price, link }) => [
      `We have washed your ${car} and looked at the clean paint. It needs more correction than was booked.`,
      scope === null ? '' : `With it the price is ${scope.price} instead of ${price}.`,
      scope?.spared ? `Not polished, because the paint is too thin there: ${scope.spared}.` : '',
      scope === null
        ? ''
        : `Please answer by ${scope.answerBy}${link && ', on the page below'}. Without an answer we do what was booked.`,
    ],
  },
  timesChanged: {
    subject: ({ shop }) => `${shop}: your times have changed`,
    body: ({ car, dropOff, pickup }) => [
      `The times for your ${car} have changed. Now it is:`,
      [dropOff && `Drop-off: ${dropOff}.`, pickup && `Ready for pickup: ${pickup}.`].filter(Boolean).join('\n'),
    ],
  },
  ready: {
    subject: ({ shop }) => `${shop}: your car is ready`,
    body: (facts) => [
      `Your ${facts.car} is ready.`,
      [facts.pickup && `Pickup as told: ${facts.pickup}.`, `To pay: ${facts.price}.`].filter(Boolean).join('\n'),
      ...aftercare(facts),
    ],
  },
  aftercare: {
    subject: ({ shop }) => `${shop}: what your car likes now`,
    body: (facts) => [`Thank you for bringing your ${facts.car}.`, ...aftercare(facts)],
  },
};

/** What a message is called at the desk. */
export const messageNames: Record<MessageKind, string> = {
  booked: 'booking confirmed',
  reminder: 'drop-off reminder',
  scope: 'question after the inspection',
  timesChanged: 'times changed',
  ready: 'ready for pickup',
  aftercare: 'aftercare',
};

/** Around every text. */
export const frame = {
  greeting: (customer: string) => `Hello ${customer},`,
  page: (link: string) => `Your page with times, price and a calendar entry:\n${link}`,
  signature: ({ shop, phone }: MessageFacts) => [shop, phone].filter(Boolean).join('\n'),
};
