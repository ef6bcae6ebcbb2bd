import { useEffect, useRef, useState } from 'preact/hooks';
import type { JobView, Place, PromiseOutlook, Recipe, Shop, Technician } from '../../api/replies.ts';
import { doingOf, stateOf } from '../parts/doing.ts';
import { InspectionForm } from '../parts/inspection-form.tsx';
import { Meter } from '../parts/meter.tsx';
import { Plate, plateOf } from '../parts/plate.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { clockTime, dayAndTime, localDateOf, money, shortDay } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { bookingWords } from '../words/booking.ts';
import { deskWords } from '../words/desk.ts';
import { inspectionWords } from '../words/inspection.ts';
import { jobWords } from '../words/job.ts';
import { words } from '../words.ts';
import { Breakdown } from './breakdown.tsx';
import { CustomerMessage } from './customer-message.tsx';
import { HandoverList } from './handover-list.tsx';
import { JobActs } from './job-acts.tsx';
import { JobCard } from './job-card.tsx';
import { joinRests } from './join-rests.ts';
import { whyAtRisk } from './ledge.tsx';
import { PromiseRisk } from './promise-risk.tsx';
import { ScopeAnswer } from './scope-answer.tsx';
import { unbegun } from './what-if-form.ts';
import { WishList } from './wish-list.tsx';

const text = jobWords;

interface JobPanelProps {
  readonly shop: Shop;
  readonly jobId: string;
  readonly asOf: number;
  readonly places: readonly Place[];
  readonly recipes: readonly Recipe[];
  readonly outlook: PromiseOutlook | undefined;
  readonly people: readonly Technician[];
  readonly onWhatIf: () => void;
  readonly onChange: () => void;
  readonly onClose: () => void;
}

/** One job: what was promised, what the plan says, and what the desk can do about it now. */
export function JobPanel(props: JobPanelProps) {
  const { shop, jobId, asOf, places, people, recipes, outlook, onWhatIf, onChange, onClose } = props;
  const [found, setFound] = useState<{ view: JobView; etag: string } | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const heading = useRef<HTMLHeadingElement>(null);
  const path = `/v1/shops/${shop.id}/jobs/${jobId}`;
  useEffect(() => {
    let left = false;
    call<JobView>(path).then(
      ({ value, etag }) => {
        if (left) return;
        setFound({ view: value, etag: etag ?? '' });
        setError(null);
      },
      (failure: Error) => left || setError(failure),
    );
    return () => {
      left = true;
    };
  }, [path, asOf]);
  const shown = found?.view.job.id === jobId ? found : null;
  const there = shown !== null;
  useEffect(() => {
    if (there) heading.current?.focus();
  }, [there, jobId]);

  if (shown === null)
    return (
      <section class="panel">{error ? <ProblemNote error={error} /> : <p class="quiet">{words.loading}</p>}</section>
    );
  const { view, etag } = shown;
  const { job, planned, operations, stays } = view;
  const zone = shop.timeZone;
  const recipe = recipes.find((each) => each.id === job.recipeId);
  const now = Date.now();
  const here = stays.find((stay) => Date.parse(stay.from) <= now && now < Date.parse(stay.to));
  const placeName = (id: string) => places.find((each) => each.id === id)?.name ?? id;
  const extra = (key: string, title: string, body: () => preact.ComponentChildren) => (
    <details
      key={key}
      open={opened.has(key)}
      onToggle={(event) => {
        const next = new Set(opened);
        if (event.currentTarget.open) next.add(key);
        else next.delete(key);
        setOpened(next);
      }}
    >
      <summary>{title}</summary>
      {opened.has(key) ? body() : null}
    </details>
  );
  return (
    <section class="panel job" aria-labelledby="job">
      <div class="job-head">
        <div class="bar">
          <Plate text={plateOf(job, job.customer.name)} />
          <span class={`mark ${job.state === 'held' ? 'soon' : ''}`}>{text.states[job.state]}</span>
          <button type="button" class="push no-print" onClick={onClose}>
            {words.close}
          </button>
        </div>
        <h2 id="job" tabIndex={-1} ref={heading}>
          {job.vehicle.description || `${job.vehicle.colour} ${job.vehicle.class}`}
        </h2>
        <div>
          {job.customer.name}
          {job.customer.phone ? (
            <>
              {' · '}
              <a href={`tel:${job.customer.phone}`}>{job.customer.phone}</a>
            </>
          ) : null}
        </div>
        <div class="quiet">
          {recipe?.name ?? job.recipeId}
          {job.addOns.length > 0 ? ` + ${job.addOns.map((each) => bookingWords.addOnNames[each]).join(', ')}` : ''} ·{' '}
          {money(shop.currency, job.scope?.priceMinor ?? job.priceMinor)}
        </div>
      </div>
      <dl class="facts">
        {job.dropOffAt ? (
          <>
            <dt>{bookingWords.dropOff}</dt>
            <dd>{dayAndTime(zone, job.dropOffAt)}</dd>
          </>
        ) : null}
        {planned ? (
          <>
            <dt>{bookingWords.ready}</dt>
            <dd>{dayAndTime(zone, planned.readyAt)}</dd>
          </>
        ) : null}
        {job.promise ? (
          <>
            <dt>{words.promises.promised}</dt>
            <dd>
              <strong>{dayAndTime(zone, job.promise.pickupAt)}</strong>
            </dd>
          </>
        ) : null}
        {outlook ? (
          <>
            <dt>{words.promises.today}</dt>
            <dd>
              <Meter percent={outlook.probabilityPercent} asked={shop.promiseConfidencePercent} />
            </dd>
          </>
        ) : null}
        {here ? (
          <>
            <dt>{text.standsIn}</dt>
            <dd>{placeName(here.placeId)}</dd>
          </>
        ) : null}
        {job.state === 'held' && job.holdUntil ? (
          <>
            <dt>{bookingWords.held}</dt>
            <dd>{dayAndTime(zone, job.holdUntil)}</dd>
          </>
        ) : null}
      </dl>
      {outlook?.atRisk ? (
        <div class="note alarm">{whyAtRisk(outlook, shop.promiseConfidencePercent, shop.timeZone)}</div>
      ) : null}
      {outlook?.atRisk ? <PromiseRisk shop={shop} outlook={outlook} onChange={onChange} /> : null}
      <JobActs key={`${job.id}${job.state}`} shop={shop} view={view} etag={etag} places={places} onChange={onChange} />
      <WishList shop={shop} view={view} places={places} people={people} onDone={onChange} />
      {unbegun(operations).length > 0 ? (
        <div class="bar no-print">
          <button type="button" onClick={onWhatIf}>
            {deskWords.whatIf.open}
          </button>
          <button type="button" onClick={printCard}>
            {deskWords.card.print}
          </button>
        </div>
      ) : null}
      <ScopeAnswer shop={shop} view={view} etag={etag} onDone={onChange} />
      {operations.length > 0 ? (
        <section>
          <h3>{text.operations}</h3>
          <ol class="steps">
            {joinRests(operations)
              .sort((a, b) => Date.parse(a.start) - Date.parse(b.start))
              .map((operation, index, all) => {
                const day = localDateOf(zone, operation.start);
                const before = all[index - 1];
                const turns = before === undefined || localDateOf(zone, before.start) !== day;
                const state = stateOf(operation, now);
                return (
                  <li key={operation.operation} class={state}>
                    <span class={`swatch ${doingOf(operation)} ${state}`} aria-hidden="true" />
                    <span>
                      {turns ? <strong>{shortDay(day)} </strong> : null}
                      {clockTime(zone, operation.start)}
                    </span>
                    <span>
                      {operation.label}
                      {operation.remedy ? (
                        <>
                          {' '}
                          <span class="mark soon">{words.remedy}</span>
                        </>
                      ) : null}
                    </span>
                    <span class="quiet">
                      {state === 'planned' ? words.doing[doingOf(operation)] : words.doing[state]}
                    </span>
                  </li>
                );
              })}
          </ol>
        </section>
      ) : null}
      <div class="no-print">
        {planned ? extra('why', text.why, () => <Breakdown shopId={shop.id} jobId={jobId} />) : null}
        {job.state === 'inShop' && (job.inspection === null || opened.has('inspect'))
          ? extra('inspect', inspectionWords.title, () => (
              <InspectionForm shop={shop} view={view} etag={etag} onDone={onChange} />
            ))
          : null}
        {extra('message', jobWords.message.title, () => (
          <CustomerMessage shop={shop} jobId={job.id} />
        ))}
        {job.state === 'inShop'
          ? extra('handover', jobWords.handover.title, () => <HandoverList view={view} recipe={recipe} />)
          : null}
      </div>
      <JobCard shop={shop} view={view} recipe={recipe} places={places} people={people} />
    </section>
  );
}

/** The card alone goes on paper, not the page it is on. */
function printCard() {
  document.documentElement.dataset.print = 'card';
  addEventListener('afterprint', () => delete document.documentElement.dataset.print, { once: true });
  print();
}
