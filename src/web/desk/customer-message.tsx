import { useState } from 'preact/hooks';
import type { JobView, Recipe, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { dayAndTime, money } from '../time/format.ts';
import { words } from '../words.ts';

type Kind = keyof typeof words.message.kinds;

/** A message to the customer, filled in, to read over and copy. Nothing is sent from here. */
export function CustomerMessage({ shop, view, recipe }: { shop: Shop; view: JobView; recipe: Recipe | undefined }) {
  const { job, planned } = view;
  const [kind, setKind] = useState<Kind>(job.state === 'inShop' ? 'ready' : 'booked');
  const [copied, setCopied] = useState(false);
  const zone = shop.timeZone;
  const text = words.message.texts[kind]({
    customer: job.customer.name,
    car: [job.vehicle.description, job.vehicle.registration].filter(Boolean).join(', '),
    service: recipe?.name ?? '',
    shop: shop.name,
    dropOff: job.dropOffAt ? dayAndTime(zone, job.dropOffAt) : '–',
    pickup: job.promise ? dayAndTime(zone, job.promise.pickupAt) : '–',
    newPickup: planned ? dayAndTime(zone, planned.pickupAt) : '–',
    price: money(shop.currency, job.scope?.priceMinor ?? job.priceMinor),
    answerBy: job.scope ? dayAndTime(zone, job.scope.answerBy) : '–',
    aftercare: recipe?.aftercare ?? [],
  });
  const copy = async () => {
    await navigator.clipboard.writeText(text);
    setCopied(true);
  };
  return (
    <>
      <Field
        label={words.message.about}
        value={kind}
        onValue={(value) => {
          setKind(value as Kind);
          setCopied(false);
        }}
        options={Object.entries(words.message.kinds).map(([value, label]) => ({ value, label }))}
      />
      <textarea aria-label={words.message.title} rows={8} readOnly value={text} />
      <div class="bar">
        <button type="button" onClick={copy}>
          {words.message.copy}
        </button>
        <span role="status">{copied ? words.message.copied : ''}</span>
      </div>
    </>
  );
}
