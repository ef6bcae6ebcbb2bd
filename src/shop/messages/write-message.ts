import type { MessageKind } from '../../trade/model/customer-message.ts';
import { inWords, panelInWords } from '../customer/in-words.ts';
import type { Visit } from '../customer/visit.ts';
import { frame, type MessageFacts, messageTexts } from './message-words.ts';

export interface WrittenMessage {
  readonly subject: string;
  /** Plain text, lines ended by line feeds. */
  readonly text: string;
}

/** Fills in a text from a visit. `link` is the address of the customer's page, or empty. */
export function writeMessage(kind: MessageKind, visit: Visit, customer: string, link: string): WrittenMessage {
  const facts = factsOf(visit, customer, link);
  const { subject, body } = messageTexts[kind];
  const paragraphs = [
    frame.greeting(customer),
    ...body(facts),
    link && frame.page(link),
    frame.signature(facts),
  ].filter((paragraph) => paragraph !== '');
  return { subject: oneLine(subject(facts)), text: paragraphs.join('\n\n') };
}

function factsOf(visit: Visit, customer: string, link: string): MessageFacts {
  const { shop, scope, aftercare, pickup } = visit;
  const words = inWords(shop);
  return {
    customer,
    shop: shop.name,
    phone: shop.toCustomers?.phone ?? '',
    address: shop.toCustomers?.address ?? '',
    car: visit.car,
    service: visit.service.name,
    dropOff: visit.dropOffAt === null ? '' : words.moment(visit.dropOffAt),
    pickup:
      pickup === null
        ? ''
        : `${words.moment(pickup.from)}${pickup.until === null ? '' : `, until ${words.hour(pickup.until)}`}`,
    price: words.money(visit.priceMinor),
    scope:
      scope === null
        ? null
        : {
            price: words.money(scope.priceMinor),
            answerBy: words.moment(scope.answerBy),
            spared: scope.sparedPanels.map(panelInWords).join(', '),
          },
    aftercare:
      aftercare.times === null
        ? null
        : {
            dryUntil: words.moment(aftercare.times.dryUntil),
            firstWash: words.dayAfter(aftercare.times.noWashUntil),
            betterFirstWash: words.dayAfter(aftercare.times.betterNoWashUntil),
            fullyCured: words.dayAfter(aftercare.times.fullyCuredAt),
          },
    advice: aftercare.advice,
    link,
  };
}

/** A subject is one line, whatever a name in it holds. */
function oneLine(text: string): string {
  return text.replaceAll(/\s+/g, ' ').trim();
}
