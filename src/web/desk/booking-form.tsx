import { useState } from 'preact/hooks';
import type { JobView, QuoteChoice, QuoteReply, Recipe, Shop, Technician } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime, instantAt, localClockOf, localDateOf } from '../time/format.ts';
import { call, Refusal } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { bookingWords } from '../words/booking.ts';
import { type BookingDraft, newDraft, requestOf } from './booking-draft.ts';
import { CarFields, ConditionFields, CustomerFields, ServiceFields } from './booking-fields.tsx';
import { ChoiceList } from './choice-list.tsx';

const text = bookingWords;

interface BookingFormProps {
  readonly shop: Shop;
  readonly recipes: readonly Recipe[];
  readonly people: readonly Technician[];
  /** What is known already: asked on the telephone, or a gap to fill. */
  readonly begunWith?: Partial<BookingDraft>;
  readonly onTaken: (jobId: string) => void;
}

/** Books a car: who, what, which service, then times that hold. A car at the door is taken at once. */
export function BookingForm({ shop, recipes, people, begunWith, onTaken }: BookingFormProps) {
  const zone = shop.timeZone;
  const [draft, setDraft] = useState<BookingDraft>(() => ({ ...newDraft(zone), ...begunWith }));
  const [quote, setQuote] = useState<QuoteReply | null>(null);
  const [taken, setTaken] = useState<JobView | null>(null);
  const { error, busy, attempt } = useAttempt();
  const recipeId = draft.recipeId || (recipes.find((each) => each.corrects) ?? recipes[0])?.id || '';
  const request = () => requestOf({ ...draft, recipeId }, zone);
  const change = (part: Partial<BookingDraft>) => {
    setDraft((before) => ({ ...before, ...part }));
    setQuote(null);
  };
  const fault = (field: string) =>
    error instanceof Refusal ? error.problem.errors?.find((each) => each.field.endsWith(field))?.message : undefined;
  const nearest = error instanceof Refusal ? error.problem.nearest : null;

  const find = (asked = request()) =>
    attempt(async () => {
      const { value } = await call<QuoteReply>(`/v1/shops/${shop.id}/quotes`, { method: 'POST', body: asked });
      setQuote(value);
    });
  const got = (value: JobView) => {
    setTaken(value);
    onTaken(value.job.id);
  };
  const take = (choice: QuoteChoice, holdMinutes: number | null) =>
    attempt(async () => {
      const { dropOffAt, pickupAt } = choice;
      const planVersion = quote?.planVersion ?? null;
      const body = { request: request(), dropOffAt, pickupAt, planVersion, depositNote: '' };
      const { value } = await call<JobView>(`/v1/shops/${shop.id}/${holdMinutes === null ? 'jobs' : 'holds'}`, {
        method: 'POST',
        body: holdMinutes === null ? body : { ...body, holdMinutes },
      });
      got(value);
    });
  const takeNow = () =>
    attempt(async () => {
      const { value } = await call<JobView>(`/v1/shops/${shop.id}/walk-ins`, {
        method: 'POST',
        body: {
          request: { ...request(), earliestDropOff: new Date().toISOString() },
          clientId: crypto.randomUUID(),
          placeId: null,
        },
      });
      got(value);
    });
  const takeNearest = () => {
    if (!nearest) return;
    const part = {
      earliestDay: localDateOf(zone, nearest.dropOffAt),
      earliestTime: localClockOf(zone, nearest.dropOffAt),
    };
    change(part);
    void find(requestOf({ ...draft, ...part, recipeId }, zone));
  };
  const startOver = () => {
    setTaken(null);
    setQuote(null);
    setDraft(newDraft(zone));
  };

  if (taken) return <Taken view={taken} zone={zone} onAgain={startOver} />;
  const fields = { draft, change, fault };
  return (
    <form
      aria-label={text.title}
      onSubmit={(event) => {
        event.preventDefault();
        void find();
      }}
    >
      <CustomerFields {...fields} shopId={shop.id} />
      <ServiceFields {...fields} recipes={recipes} recipeId={recipeId} />
      <ConditionFields {...fields} />
      <CarFields {...fields} people={people} />
      <div class="bar">
        <button type="submit" class="main" disabled={busy}>
          {busy ? text.finding : text.find}
        </button>
        <button type="button" disabled={busy} onClick={takeNow}>
          {text.walkIn}
        </button>
        <span class="quiet">{text.walkInMeaning}</span>
      </div>
      <ProblemNote error={error} zone={zone} />
      {nearest ? (
        <button type="button" class="main" disabled={busy} onClick={takeNearest}>
          {text.askNearest}
        </button>
      ) : null}
      {quote ? (
        <ChoiceList
          quote={quote}
          zone={zone}
          asked={shop.promiseConfidencePercent}
          wantedBy={draft.wantedDay === '' ? null : instantAt(zone, draft.wantedDay, draft.wantedTime)}
          busy={busy}
          onTake={take}
        />
      ) : null}
    </form>
  );
}

function Taken({ view, zone, onAgain }: { view: JobView; zone: string; onAgain: () => void }) {
  const { job } = view;
  const held = job.state === 'held';
  const told = held ? job.holdUntil : job.promise?.pickupAt;
  return (
    <div role="status">
      <p>{held ? text.held : text.booked}</p>
      <p class="told">
        <strong>{told ? dayAndTime(zone, told) : null}</strong>
      </p>
      {job.dropOffAt ? (
        <p>
          {text.dropOff} {dayAndTime(zone, job.dropOffAt)}
        </p>
      ) : null}
      <button type="button" onClick={onAgain}>
        {text.again}
      </button>
    </div>
  );
}
