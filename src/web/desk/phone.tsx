import { useState } from 'preact/hooks';
import type { Place, Plan, QuoteReply, Recipe, Shop, Technician } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import {
  dayAndTime,
  instantAt,
  localClockOf,
  localDateOf,
  longDuration,
  minutesBetween,
  money,
} from '../time/format.ts';
import { call, read } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { bookingWords } from '../words/booking.ts';
import { deskWords } from '../words/desk.ts';
import { type BookingDraft, newDraft, ofClass, requestOf, vehicleClasses } from './booking-draft.ts';
import { FindBox } from './find-box.tsx';
import { Rain } from './rain.tsx';

const text = deskWords.phone;
const NIGHT_MS = 14 * 3_600_000;

interface PhoneProps {
  readonly shop: Shop;
  readonly places: readonly Place[];
  readonly people: readonly Technician[];
  readonly recipes: readonly Recipe[];
  readonly onChoose: (jobId: string) => void;
  readonly onBook: (draft: Partial<BookingDraft>) => void;
}

interface Answers {
  readonly quote: QuoteReply;
  /** Parking places that stand empty from the hour asked about until the morning. */
  readonly freeParking: readonly string[];
}

/** One place that answers what the phone asks. Nothing is kept. */
export function Phone({ shop, places, people, recipes, onChoose, onBook }: PhoneProps) {
  const zone = shop.timeZone;
  const at = `/v1/shops/${shop.id}`;
  const [draft, setDraft] = useState<BookingDraft>(() => ({ ...newDraft(zone), name: '–' }));
  const [answers, setAnswers] = useState<Answers | null>(null);
  const { error, busy, attempt } = useAttempt();
  const recipeId = draft.recipeId || (recipes.find((each) => each.corrects) ?? recipes[0])?.id || '';
  const change = (part: Partial<BookingDraft>) => {
    setDraft((before) => ({ ...before, ...part }));
    setAnswers(null);
  };
  const ask = () => {
    setAnswers(null);
    return attempt(async () => {
      const body = requestOf({ ...draft, recipeId }, zone);
      const { value: quote } = await call<QuoteReply>(`${at}/quotes`, { method: 'POST', body });
      const freeParking = draft.dropOffBy === '' ? [] : await parkingFree(at, places, body.earliestDropOff);
      setAnswers({ quote, freeParking });
    });
  };
  const options = (names: readonly string[]) => names.map((label, value) => ({ value: String(value), label }));
  return (
    <div class="phone">
      <section>
        <h3>{text.ready}</h3>
        <FindBox shop={shop} onChoose={onChoose} />
      </section>
      <section>
        <h3>{text.ask}</h3>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            void ask();
          }}
        >
          <div class="fields">
            <Field
              label={text.service}
              value={recipeId}
              onValue={(each) => change({ recipeId: each })}
              options={recipes.map((each) => ({ value: each.id, label: each.name }))}
              wide
            />
            <Field
              label={text.class}
              value={draft.class}
              onValue={(each) => change(ofClass(each))}
              options={vehicleClasses.map((value) => ({ value, label: bookingWords.classes[value] ?? value }))}
            />
            <Field
              label={text.defects}
              value={draft.defects}
              onValue={(defects) => change({ defects })}
              options={options(bookingWords.defectGrades)}
            />
            <Field
              label={text.brings}
              value={draft.earliestDay}
              onValue={(earliestDay) => change({ earliestDay })}
              input={{ type: 'date', required: true }}
            />
            <Field
              label={text.bringsHour}
              value={draft.earliestTime}
              onValue={(earliestTime) => change({ earliestTime })}
              input={{ type: 'time', required: true }}
            />
            <Field
              label={text.needs}
              value={draft.wantedDay}
              onValue={(wantedDay) => change({ wantedDay })}
              input={{ type: 'date' }}
            />
            <Field
              label={text.needsHour}
              value={draft.wantedTime}
              onValue={(wantedTime) => change({ wantedTime })}
              input={{ type: 'time' }}
            />
            <Field
              label={text.door}
              value={draft.dropOffBy}
              onValue={(dropOffBy) => change({ dropOffBy })}
              options={[
                { value: '', label: text.nobody },
                ...people.map((each) => ({ value: each.id, label: each.name })),
              ]}
              wide
            />
          </div>
          <div class="bar">
            <button type="submit" class="main" disabled={busy}>
              {text.answer}
            </button>
            <span role="status">{busy ? text.asking : ''}</span>
          </div>
        </form>
        <ProblemNote error={error} zone={zone} />
        {answers ? (
          <>
            <Said answers={answers} draft={draft} shop={shop} people={people} />
            <button type="button" class="main" onClick={() => onBook({ ...draft, recipeId, name: '' })}>
              {text.book}
            </button>
          </>
        ) : null}
      </section>
      <section>
        <h3>{text.rain}</h3>
        <Rain shop={shop} onChoose={onChoose} />
      </section>
    </div>
  );
}

/** The answers as they are said into the phone. */
function Said({
  answers: { quote, freeParking },
  draft,
  shop,
  people,
}: {
  answers: Answers;
  draft: BookingDraft;
  shop: Shop;
  people: readonly Technician[];
}) {
  const zone = shop.timeZone;
  const soonest = quote.choices.reduce((a, b) => (Date.parse(b.pickupAt) < Date.parse(a.pickupAt) ? b : a));
  const lines: [string, string, boolean | null][] = [
    [text.howMuch, text.price(money(quote.currency, soonest.priceMinor)), null],
    [
      text.howLong,
      text.days(
        longDuration(minutesBetween(soonest.dropOffAt, soonest.pickupAt)),
        dayAndTime(zone, soonest.dropOffAt),
        dayAndTime(zone, soonest.pickupAt),
      ),
      null,
    ],
  ];
  if (draft.wantedDay !== '') {
    const wanted = Date.parse(instantAt(zone, draft.wantedDay, draft.wantedTime));
    const inTime = quote.choices
      .filter((each) => Date.parse(each.pickupAt) <= wanted)
      .sort((a, b) => b.confidencePercent - a.confidencePercent)[0];
    lines.push([
      text.byThen,
      inTime
        ? text.inTime(
            dayAndTime(zone, inTime.pickupAt),
            dayAndTime(zone, inTime.dropOffAt),
            Math.round(inTime.confidencePercent),
          )
        : text.notInTime(dayAndTime(zone, soonest.pickupAt)),
      inTime !== undefined,
    ]);
  }
  if (draft.dropOffBy !== '') {
    const hour = instantAt(zone, draft.earliestDay, draft.earliestTime);
    const then = quote.choices.find(
      (each) =>
        localDateOf(zone, each.dropOffAt) === draft.earliestDay &&
        localClockOf(zone, each.dropOffAt) === draft.earliestTime,
    );
    const who = people.find((each) => each.id === draft.dropOffBy)?.name ?? draft.dropOffBy;
    lines.push([
      text.atNight,
      then
        ? text.tonight(dayAndTime(zone, hour), who, freeParking[0] ?? text.noParking)
        : text.tonightNot(dayAndTime(zone, hour), dayAndTime(zone, soonest.dropOffAt)),
      then !== undefined,
    ]);
  }
  return (
    <div role="status">
      <dl class="said">
        {lines.map(([title, said, yes]) => (
          <div key={title}>
            <dt>{title}</dt>
            <dd class={yes === null ? '' : yes ? 'yes' : 'no'}>
              {yes === null ? '' : yes ? '✓ ' : '✕ '}
              {said}
            </dd>
          </div>
        ))}
        {quote.advice.map((each) => (
          <div key={each}>
            <dt />
            <dd class="quiet">{each}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

async function parkingFree(at: string, places: readonly Place[], from: string): Promise<string[]> {
  const { stays } = await read<Plan>(`${at}/plan`);
  const begins = Date.parse(from);
  const taken = new Set<string>(
    stays
      .filter((each) => Date.parse(each.from) < begins + NIGHT_MS && Date.parse(each.to) > begins)
      .map((each) => each.placeId),
  );
  return places.filter((each) => each.kind === 'parking' && !taken.has(each.id)).map((each) => each.name);
}
