import type { QuoteChoice, QuoteReply } from '../../api/replies.ts';
import { dayAndTime, duration, minutesBetween, money } from '../time/format.ts';
import { words } from '../words.ts';

const text = words.booking;

/** Slots that hold the car, each with what may be told to the customer and how sure it is. */
export function ChoiceList({
  quote,
  zone,
  busy,
  onTake,
}: {
  quote: QuoteReply;
  zone: string;
  busy: boolean;
  onTake: (choice: QuoteChoice, holdMinutes: number | null) => void;
}) {
  return (
    <section aria-labelledby="choices">
      <h3 id="choices">{text.choices}</h3>
      {quote.advice.map((each) => (
        <p class="note" key={each}>
          {each}
        </p>
      ))}
      <ul class="choices">
        {quote.choices.map((choice) => (
          <li key={choice.why + choice.dropOffAt}>
            <strong>{text.why[choice.why] ?? choice.why}</strong>
            <dl class="facts">
              <dt>{text.dropOff}</dt>
              <dd>{dayAndTime(zone, choice.dropOffAt)}</dd>
              <dt>{text.ready}</dt>
              <dd>{dayAndTime(zone, choice.readyAt)}</dd>
              <dt>{text.pickup}</dt>
              <dd>
                <strong>{dayAndTime(zone, choice.pickupAt)}</strong> ({words.promises.chance(choice.confidencePercent)})
              </dd>
              <dt>{duration(minutesBetween(choice.dropOffAt, choice.pickupAt))}</dt>
              <dd>{money(quote.currency, choice.priceMinor)}</dd>
            </dl>
            <div class="bar">
              <button type="button" class="main" disabled={busy} onClick={() => onTake(choice, null)}>
                {text.book}
              </button>
              <button type="button" disabled={busy} onClick={() => onTake(choice, 30)}>
                {text.hold}
              </button>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
