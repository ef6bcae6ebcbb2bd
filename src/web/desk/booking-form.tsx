import { useState } from 'preact/hooks';
import type { JobView, PageOf, QuoteChoice, QuoteReply, Recipe, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime } from '../time/format.ts';
import { call, Refusal } from '../wire/api.ts';
import { useReading } from '../wire/use-reading.ts';
import { words } from '../words.ts';
import { type BookingDraft, newDraft, requestOf } from './booking-draft.ts';
import { ChoiceList } from './choice-list.tsx';

const text = words.booking;
const classes = ['city', 'compact', 'saloon', 'estate', 'suv', 'van', 'coupe'];
const graded = (names: readonly string[]) => names.map((label, value) => ({ value: String(value), label }));

/** Books a car: what comes in, what is wanted, then times that hold. */
export function BookingForm({ shop, onTaken }: { shop: Shop; onTaken: (jobId: string) => void }) {
  const [draft, setDraft] = useState<BookingDraft>(() => newDraft(shop.timeZone));
  const [quote, setQuote] = useState<QuoteReply | null>(null);
  const [taken, setTaken] = useState<JobView | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const [busy, setBusy] = useState(false);
  const [recipes] = useReading<PageOf<Recipe>>(`/v1/shops/${shop.id}/recipes?limit=100`);
  const recipeId = draft.recipeId || (recipes.value?.items[0]?.id ?? '');
  const request = () => requestOf({ ...draft, recipeId }, shop.timeZone);
  const change =
    <K extends keyof BookingDraft>(key: K) =>
    (value: BookingDraft[K]) => {
      setDraft((before) => ({ ...before, [key]: value }));
      setQuote(null);
    };
  const fault = (field: string) =>
    error instanceof Refusal ? error.problem.errors?.find((each) => each.field.endsWith(field))?.message : undefined;

  const attempt = async (work: () => Promise<void>) => {
    setBusy(true);
    setError(null);
    try {
      await work();
    } catch (failure) {
      setError(failure as Error);
    } finally {
      setBusy(false);
    }
  };
  const find = (event: Event) => {
    event.preventDefault();
    void attempt(async () => {
      const { value } = await call<QuoteReply>(`/v1/shops/${shop.id}/quotes`, { method: 'POST', body: request() });
      setQuote(value);
    });
  };
  const take = (choice: QuoteChoice, holdMinutes: number | null) =>
    attempt(async () => {
      const body = { request: request(), dropOffAt: choice.dropOffAt, pickupAt: choice.pickupAt, depositNote: '' };
      const { value } = await call<JobView>(`/v1/shops/${shop.id}/${holdMinutes === null ? 'jobs' : 'holds'}`, {
        method: 'POST',
        body: holdMinutes === null ? body : { ...body, holdMinutes },
      });
      setTaken(value);
      onTaken(value.job.id);
    });

  const startOver = () => {
    setTaken(null);
    setQuote(null);
    setDraft(newDraft(shop.timeZone));
  };

  if (taken) return <Taken view={taken} zone={shop.timeZone} onAgain={startOver} />;
  return (
    <form class="panel" onSubmit={find} aria-labelledby="booking">
      <h2 id="booking">{text.title}</h2>
      <fieldset>
        <legend>{text.customer}</legend>
        <div class="fields">
          <Field
            label={text.name}
            value={draft.name}
            onValue={change('name')}
            fault={fault('customer/name')}
            input={{ required: true, autoComplete: 'off' }}
          />
          <Field
            label={text.phone}
            value={draft.phone}
            onValue={change('phone')}
            fault={fault('phone')}
            input={{ type: 'tel', autoComplete: 'off' }}
          />
          <Field
            label={text.email}
            value={draft.email}
            onValue={change('email')}
            fault={fault('email')}
            input={{ type: 'email', autoComplete: 'off' }}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>{text.car}</legend>
        <div class="fields">
          <Field
            label={text.registration}
            value={draft.registration}
            onValue={change('registration')}
            fault={fault('registration')}
          />
          <Field
            label={text.description}
            value={draft.description}
            onValue={change('description')}
            fault={fault('description')}
          />
          <Field label={text.colour} value={draft.colour} onValue={change('colour')} />
          <Field
            label={text.class}
            value={draft.class}
            onValue={change('class')}
            options={classes.map((each) => ({ value: each, label: each }))}
          />
          <Field
            label={text.length}
            value={draft.lengthMm}
            onValue={change('lengthMm')}
            fault={fault('lengthMm')}
            input={{ inputMode: 'numeric' }}
          />
          <Field
            label={text.height}
            value={draft.heightMm}
            onValue={change('heightMm')}
            fault={fault('heightMm')}
            input={{ inputMode: 'numeric' }}
          />
          <Field
            label={text.hardness}
            value={draft.hardness}
            onValue={change('hardness')}
            options={[
              { value: '', label: text.hardnessUnknown },
              ...['soft', 'medium', 'hard'].map((each) => ({ value: each, label: each })),
            ]}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>{text.state}</legend>
        <div class="fields">
          <Field label={text.soil} value={draft.soil} onValue={change('soil')} options={graded(text.soilGrades)} />
          <Field
            label={text.brakeDust}
            value={draft.brakeDust}
            onValue={change('brakeDust')}
            options={graded(text.soilGrades)}
          />
          <Field
            label={text.defects}
            value={draft.defects}
            onValue={change('defects')}
            options={graded(text.defectGrades)}
          />
        </div>
        <div class="ticks">
          <Tick label={text.minerals} on={draft.minerals} onTick={change('minerals')} />
          <Tick label={text.tar} on={draft.tar} onTick={change('tar')} />
        </div>
      </fieldset>
      <fieldset>
        <legend>{text.service}</legend>
        <div class="fields">
          <Field
            label={text.recipe}
            value={recipeId}
            onValue={change('recipeId')}
            options={(recipes.value?.items ?? []).map((each) => ({ value: each.id, label: each.name }))}
          />
          <Field
            label={text.earliest}
            value={draft.earliestDay}
            onValue={change('earliestDay')}
            fault={fault('earliestDropOff')}
            input={{ type: 'date', required: true }}
          />
          <Field
            label={`${text.earliest}, h`}
            value={draft.earliestTime}
            onValue={change('earliestTime')}
            input={{ type: 'time', required: true }}
          />
          <Field
            label={text.wanted}
            value={draft.wantedDay}
            onValue={change('wantedDay')}
            fault={fault('wantedPickupAt')}
            input={{ type: 'date' }}
          />
          <Field
            label={`${text.wanted}, h`}
            value={draft.wantedTime}
            onValue={change('wantedTime')}
            input={{ type: 'time' }}
          />
          <Field
            label={text.priority}
            value={draft.priority}
            onValue={change('priority')}
            options={['1', '2', '3', '4', '5'].map((each) => ({ value: each, label: each }))}
          />
        </div>
        <fieldset class="ticks">
          <legend>{text.addOns}</legend>
          {Object.entries(text.addOnNames).map(([key, label]) => (
            <Tick
              key={key}
              label={label}
              on={draft.addOns.includes(key)}
              onTick={(on) =>
                change('addOns')(on ? [...draft.addOns, key] : draft.addOns.filter((each) => each !== key))
              }
            />
          ))}
        </fieldset>
      </fieldset>
      <div class="bar">
        <button type="submit" class="main" disabled={busy}>
          {busy ? text.finding : text.find}
        </button>
      </div>
      <ProblemNote error={error} />
      {quote ? <ChoiceList quote={quote} zone={shop.timeZone} busy={busy} onTake={take} /> : null}
    </form>
  );
}

function Tick({ label, on, onTick }: { label: string; on: boolean; onTick: (on: boolean) => void }) {
  return (
    <label>
      <input type="checkbox" checked={on} onChange={(event) => onTick(event.currentTarget.checked)} />
      {label}
    </label>
  );
}

function Taken({ view, zone, onAgain }: { view: JobView; zone: string; onAgain: () => void }) {
  const told = view.job.promise?.pickupAt ?? view.job.holdUntil;
  return (
    <section class="panel" aria-live="polite">
      <h2>{view.job.state === 'held' ? text.held : text.booked}</h2>
      <p class="when">{told ? dayAndTime(zone, told) : null}</p>
      <button type="button" onClick={onAgain}>
        {text.again}
      </button>
    </section>
  );
}
