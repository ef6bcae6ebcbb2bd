import { useEffect, useRef } from 'preact/hooks';
import type { QuoteChoice, QuoteReply } from '../../api/replies.ts';
import { Meter } from '../parts/meter.tsx';
import { dayAndTime, longDuration, minutesBetween, money } from '../time/format.ts';
import { bookingWords } from '../words/booking.ts';
import { deskWords } from '../words/desk.ts';
import { shiftOf } from './shift-of.ts';

const text = bookingWords;

interface ChoiceListProps {
  readonly quote: QuoteReply;
  readonly zone: string;
  readonly asked: number;
  readonly wantedBy: string | null;
  readonly busy: boolean;
  readonly onTake: (choice: QuoteChoice, holdMinutes: number | null) => void;
}

/** Slots that hold the car, each with what may be told to the customer and how sure it is. Focus goes to the first. */
export function ChoiceList({ quote, zone, asked, wantedBy, busy, onTake }: ChoiceListProps) {
  const list = useRef<HTMLUListElement>(null);
  useEffect(() => {
    if (!busy) list.current?.querySelector('button')?.focus();
  }, [quote, busy]);
  return (
    <section aria-labelledby="choices">
      <h3 id="choices">{text.choices}</h3>
      {quote.advice.map((each) => (
        <p class="note watch" key={each}>
          {each}
        </p>
      ))}
      <ul class="choices" ref={list}>
        {quote.choices.map((choice) => (
          <li key={choice.why + choice.dropOffAt}>
            <div class="bar">
              <strong>{text.why[choice.why] ?? choice.why}</strong>
              {wantedBy ? (
                <span class={`mark ${Date.parse(choice.pickupAt) <= Date.parse(wantedBy) ? 'safe' : 'risk'}`}>
                  {Date.parse(choice.pickupAt) <= Date.parse(wantedBy) ? text.inTime : text.tooLate}
                </span>
              ) : null}
            </div>
            <div class="quiet">{text.pickup}</div>
            <div class="told">{dayAndTime(zone, choice.pickupAt)}</div>
            <Meter percent={choice.confidencePercent} asked={asked} />
            <dl class="facts">
              <dt>{text.dropOff}</dt>
              <dd>{dayAndTime(zone, choice.dropOffAt)}</dd>
              <dt>{text.ready}</dt>
              <dd>{dayAndTime(zone, choice.readyAt)}</dd>
              <dt>{text.stays}</dt>
              <dd>{longDuration(minutesBetween(choice.dropOffAt, choice.pickupAt))}</dd>
              <dt>{text.price}</dt>
              <dd>
                <strong>{money(quote.currency, choice.priceMinor)}</strong>
              </dd>
            </dl>
            {choice.displaces.length > 0 ? (
              <div class="note">
                {deskWords.displaces.title(choice.displaces.length)}
                <ul>
                  {choice.displaces.map((each) => (
                    <li key={each.jobId}>{deskWords.displaces.by(each.car, shiftOf(each.readyMinutes))}</li>
                  ))}
                </ul>
              </div>
            ) : null}
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
