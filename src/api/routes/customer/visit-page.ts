import { type ComponentChildren, h, type JSX } from 'preact';
import { type InWords, inWords, panelInWords } from '../../../shop/customer/in-words.ts';
import type { Visit } from '../../../shop/customer/visit.ts';
import type { Instant } from '../../../trade/model/time.ts';
import { pageWords as words } from './page-words.ts';

/** The page of one visit, below its own address. Whether a question can still be answered is the clock's affair: `now`. */
export function visitPage(visit: Visit, address: string, now: Instant): JSX.Element {
  const say = inWords(visit.shop);
  const heading = visit.ready ? words.ready : words.states[visit.state];
  return h(
    'main',
    { id: 'main' },
    h('p', { class: 'shop' }, visit.shop.name),
    h('h1', null, visit.car),
    h('p', { class: 'state' }, heading),
    visit.state === 'held' && visit.heldUntil !== null
      ? h('p', null, words.heldUntil(say.moment(visit.heldUntil)))
      : null,
    question(visit, say, address, now),
    isClosed(visit) ? null : times(visit, say, address),
    work(visit, say),
    aftercare(visit, say),
    contact(visit),
    h('p', { class: 'quiet foot' }, words.foot),
  );
}

/** A page that only says something. */
export function sayingPage(
  heading: string,
  text: string,
  back?: { readonly label: string; readonly address: string },
): JSX.Element {
  return h(
    'main',
    { id: 'main' },
    h('h1', null, heading),
    h('p', null, text),
    back === undefined ? null : h('p', null, h('a', { class: 'button', href: back.address }, back.label)),
  );
}

function isClosed(visit: Visit): boolean {
  return visit.state === 'cancelled' || visit.state === 'noShow' || visit.state === 'lapsed';
}

function section(heading: string, ...children: ComponentChildren[]): JSX.Element {
  return h('section', null, h('h2', null, heading), ...children);
}

function term(name: string, ...value: ComponentChildren[]): JSX.Element {
  return h('div', null, h('dt', null, name), h('dd', null, ...value));
}

function question(visit: Visit, say: InWords, address: string, now: Instant): JSX.Element | null {
  const { scope } = visit;
  if (scope === null || visit.state !== 'inShop') return null;
  const texts = words.question;
  if (scope.answer !== 'awaited') return section(texts.heading, h('p', null, texts.settled[scope.answer]));
  if (scope.answerBy <= now) return section(texts.heading, h('p', null, texts.over));
  const choice = (answer: 'approved' | 'declined', label: string) =>
    h(
      'button',
      { type: 'submit', name: 'answer', value: answer, class: answer === 'approved' ? 'main' : undefined },
      label,
    );
  return h(
    'section',
    { class: 'question' },
    h('h2', null, texts.heading),
    h('p', null, texts.found),
    scope.passes > scope.bookedPasses ? h('p', null, texts.passes(scope.passes, scope.bookedPasses)) : null,
    h('p', null, texts.until(say.moment(scope.answerBy))),
    h('p', { class: 'quiet' }, texts.later),
    h(
      'form',
      { method: 'post', action: `${address}/answer` },
      h('input', { type: 'hidden', name: 'answerBy', value: String(scope.answerBy) }),
      h('input', { type: 'hidden', name: 'priceMinor', value: String(scope.priceMinor) }),
      choice('approved', texts.yes(say.money(scope.priceMinor))),
      choice('declined', texts.no(say.money(scope.bookedPriceMinor))),
    ),
  );
}

function times(visit: Visit, say: InWords, address: string): JSX.Element {
  const texts = words.times;
  const { dropOffAt, pickup, told } = visit;
  const last = told.at(-1);
  const before = told.at(-2);
  const formerly = (what: string, then: Instant | null | undefined, now: Instant | null | undefined) =>
    then == null || then === now ? [] : [h('li', null, texts.before(what, say.moment(then)))];
  return section(
    texts.heading,
    h(
      'dl',
      null,
      dropOffAt === null ? null : term(texts.dropOff, say.moment(dropOffAt)),
      pickup === null
        ? null
        : term(
            texts.pickup,
            texts.from(say.moment(pickup.from), pickup.until === null ? null : say.hour(pickup.until)),
          ),
    ),
    pickup === null ? h('p', null, texts.none) : null,
    last === undefined || before === undefined
      ? null
      : h(
          'div',
          { class: 'changed' },
          h('p', null, texts.changed(say.moment(last.toldAt))),
          h(
            'ul',
            null,
            formerly(texts.dropOff, before.dropOffAt, last.dropOffAt),
            formerly(texts.pickup, before.pickupAt, last.pickupAt),
          ),
        ),
    h(
      'p',
      { class: 'no-print' },
      h('a', { class: 'button', href: `${address}/calendar.ics`, download: 'car.ics' }, texts.calendar),
    ),
  );
}

function work(visit: Visit, say: InWords): JSX.Element {
  const texts = words.work;
  const { service, scope, stages } = visit;
  const asked = scope?.answer === 'awaited';
  const addOns = service.addOns.map((each) => words.addOns[each]).join(', ');
  const spared = (scope?.sparedPanels ?? []).map(panelInWords).join(', ');
  return section(
    texts.heading,
    h('p', null, h('strong', null, service.name)),
    service.description === '' ? null : h('p', null, service.description),
    addOns === '' ? null : h('p', null, texts.with(addOns)),
    spared === '' ? null : h('p', null, texts.spared(spared)),
    h('dl', null, term(asked ? texts.priceAsBooked : texts.price, say.money(visit.priceMinor))),
    stages.length === 0
      ? null
      : [
          h('h3', null, texts.stages),
          h(
            'ol',
            { class: 'stages' },
            stages.map(({ stage, progress }) =>
              h('li', { class: progress }, h('span', { class: 'mark' }, words.progress[progress]), words.stages[stage]),
            ),
          ),
        ],
  );
}

function aftercare(visit: Visit, say: InWords): JSX.Element | null {
  const texts = words.aftercare;
  const { times: until, expected, advice } = visit.aftercare;
  if (isClosed(visit) || visit.state === 'held' || (until === null && advice.length === 0)) return null;
  return section(
    texts.heading,
    until === null
      ? null
      : [
          h(
            'dl',
            null,
            term(texts.dry, say.moment(until.dryUntil)),
            term(texts.wash, say.dayAfter(until.noWashUntil)),
            term(texts.better, say.dayAfter(until.betterNoWashUntil)),
            term(texts.cured, say.dayAfter(until.fullyCuredAt)),
          ),
          expected ? h('p', null, texts.expected) : null,
          h('ul', null, h('li', null, texts.rain), h('li', null, texts.strong), h('li', null, texts.cold)),
        ],
    advice.length === 0
      ? null
      : h(
          'ul',
          null,
          advice.map((each) => h('li', null, each)),
        ),
    until === null ? null : h('p', { class: 'quiet' }, texts.sheet),
  );
}

function contact(visit: Visit): JSX.Element | null {
  const { phone = '', address = '' } = visit.shop.toCustomers ?? {};
  if (phone === '' && address === '') return null;
  const texts = words.contact;
  return section(
    texts.heading,
    h(
      'dl',
      null,
      phone === '' ? null : term(texts.call, h('a', { href: `tel:${phone.replaceAll(/[^+\d]/g, '')}` }, phone)),
      address === '' ? null : term(texts.where, address),
    ),
  );
}
