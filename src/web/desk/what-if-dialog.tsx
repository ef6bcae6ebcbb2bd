import { useEffect, useState } from 'preact/hooks';
import type { JobView, Place, Shop, Technician, WhatIfReply, WishReply, WithdrawnReply } from '../../api/replies.ts';
import { Field, Tick } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { WindowDialog } from '../parts/window-dialog.tsx';
import { dayAndTime, localClockOf, localDateOf } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { deskWords } from '../words/desk.ts';
import type { Dropped } from './carry.ts';
import { UndoWish, WithdrawnNote } from './undo-wish.tsx';
import { WhatIfAnswer } from './what-if-answer.tsx';
import { formOf, questionOf, unbegun, type WhatIfForm } from './what-if-form.ts';

const text = deskWords.whatIf;

interface WhatIfDialogProps {
  readonly shop: Shop;
  readonly places: readonly Place[];
  readonly people: readonly Technician[];
  /** What was dragged, or the car alone. */
  readonly dropped: Dropped;
  readonly by: 'place' | 'person';
  readonly onChange: () => void;
  readonly onClose: () => void;
}

interface Answered {
  readonly answer: WhatIfReply;
  readonly question: object;
  readonly etag: string;
}

/** "What if it went here": asked, answered, and then done or left. */
export function WhatIfDialog({ shop, places, people, dropped, by, onChange, onClose }: WhatIfDialogProps) {
  const at = `/v1/shops/${shop.id}`;
  const zone = shop.timeZone;
  const [view, setView] = useState<JobView | null>(null);
  const [form, setForm] = useState<WhatIfForm | null>(null);
  const [answered, setAnswered] = useState<Answered | null>(null);
  const [applied, setApplied] = useState<WishReply | null>(null);
  const [withdrawn, setWithdrawn] = useState<WithdrawnReply | null>(null);
  const [accepted, setAccepted] = useState(false);
  const { error, busy, attempt, setError } = useAttempt();

  const ask = (asked: WhatIfForm) => {
    const question = questionOf(dropped.jobId, asked, shop);
    setAnswered(null);
    setAccepted(false);
    if (question === null) return setError(new Error(text.nothing));
    void attempt(async () => {
      const { value, etag } = await call<WhatIfReply>(`${at}/what-ifs`, { method: 'POST', body: question });
      setAnswered({ answer: value, question, etag: etag ?? '' });
    });
  };
  useEffect(() => {
    void attempt(async () => {
      const { value } = await call<JobView>(`${at}/jobs/${dropped.jobId}`);
      const given = formOf(dropped, by, value.operations, shop);
      setView(value);
      setForm(given);
      if (dropped.column !== null || dropped.startAt !== null) ask(given);
    });
  }, []);
  const change = (part: Partial<WhatIfForm>) => {
    setForm((before) => before && { ...before, ...part });
    setAnswered(null);
    setError(null);
  };
  const apply = () =>
    attempt(async () => {
      if (answered === null) return;
      const { value } = await call<WishReply>(`${at}/wishes`, {
        method: 'POST',
        etag: answered.etag,
        body: { whatIf: answered.question, acceptBroken: accepted },
      });
      setApplied(value);
      onChange();
    });

  const broken = answered?.answer.pickups.some((each) => each.broken) ?? false;
  return (
    <WindowDialog title={text.title} onClose={onClose}>
      {applied ? (
        <div class="done" role="status">
          <p class="verdict fits">✓ {text.applied(applied.published)}</p>
          {withdrawn ? (
            <WithdrawnNote withdrawn={withdrawn} zone={zone} places={places} />
          ) : (
            <UndoWish
              shop={shop}
              jobId={dropped.jobId}
              operation={applied.wish.operation}
              planVersion={null}
              onDone={(value) => {
                setWithdrawn(value);
                onChange();
              }}
            />
          )}
        </div>
      ) : null}
      {!applied && view && form ? (
        <form
          class="what-if"
          onSubmit={(event) => {
            event.preventDefault();
            ask(form);
          }}
        >
          <Question view={view} form={form} zone={zone} places={places} people={people} change={change} />
          <div class="bar">
            <button type="submit" class={answered ? '' : 'main'} disabled={busy}>
              {text.ask}
            </button>
            <span role="status">{busy ? text.asking : ''}</span>
          </div>
        </form>
      ) : null}
      <ProblemNote error={error} zone={zone} />
      {!applied && answered ? (
        <>
          <WhatIfAnswer answer={answered.answer} zone={zone} places={places} people={people} />
          {answered.answer.nearest && form ? (
            <div class="bar">
              <strong>{text.nearest(dayAndTime(zone, answered.answer.nearest.startAt))}</strong>
              <button
                type="button"
                onClick={() => {
                  const { startAt } = answered.answer.nearest!;
                  const next = { ...form, day: localDateOf(zone, startAt), clock: localClockOf(zone, startAt) };
                  setForm(next);
                  ask(next);
                }}
              >
                {text.askNearest}
              </button>
            </div>
          ) : null}
          {answered.answer.allowed ? (
            <div class="bar decide">
              {broken ? <Tick label={text.accept} on={accepted} onTick={setAccepted} /> : null}
              <button type="button" class="main" disabled={busy || (broken && !accepted)} onClick={apply}>
                {text.apply}
              </button>
            </div>
          ) : null}
        </>
      ) : null}
    </WindowDialog>
  );
}

function Question({
  view,
  form,
  zone,
  places,
  people,
  change,
}: {
  view: JobView;
  form: WhatIfForm;
  zone: string;
  places: readonly Place[];
  people: readonly Technician[];
  change: (part: Partial<WhatIfForm>) => void;
}) {
  const name = view.job.vehicle.registration || view.job.customer.name;
  const work = unbegun(view.operations).map((each) => ({
    value: each.operation,
    label: `${dayAndTime(zone, each.start)} ${each.label}`,
  }));
  return (
    <fieldset>
      <legend>
        {name} · {view.job.vehicle.description || view.job.vehicle.colour}
      </legend>
      <div class="fields">
        <Field
          label={text.operation}
          value={form.operation}
          onValue={(operation) => change({ operation })}
          options={[{ value: '', label: text.next }, ...work]}
          wide
        />
        <Field
          label={text.place}
          value={form.placeId}
          onValue={(placeId) => change({ placeId })}
          options={[
            { value: '', label: text.anyPlace },
            ...places.map((each) => ({ value: each.id, label: each.name })),
          ]}
        />
        <Field
          label={text.who}
          value={form.personId}
          onValue={(personId) => change({ personId })}
          options={[
            { value: '', label: text.anybody },
            ...people.map((each) => ({ value: each.id, label: each.name })),
          ]}
        />
        <Field
          label={text.when}
          value={form.when}
          onValue={(when) => change({ when: when as WhatIfForm['when'] })}
          options={Object.entries(text.whens).map(([value, label]) => ({ value, label }))}
        />
        {form.when === 'any' ? null : (
          <>
            <Field label={text.day} value={form.day} onValue={(day) => change({ day })} input={{ type: 'date' }} />
            <Field
              label={text.hour}
              value={form.clock}
              onValue={(clock) => change({ clock })}
              input={{ type: 'time', step: 300 }}
            />
          </>
        )}
      </div>
    </fieldset>
  );
}
