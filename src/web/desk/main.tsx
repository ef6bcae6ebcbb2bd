import { useCallback, useMemo, useState } from 'preact/hooks';
import type {
  DeskException,
  JobLine,
  PageOf,
  Place,
  Plan,
  PromiseOutlook,
  Recipe,
  Shop,
  Technician,
  TimelineReply,
} from '../../api/replies.ts';
import { later } from '../parts/later.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { localDateOf } from '../time/format.ts';
import { useLastShown } from '../wire/use-last-shown.ts';
import { useNews } from '../wire/use-news.ts';
import { type Reading, useReading } from '../wire/use-reading.ts';
import { deskWords } from '../words/desk.ts';
import { words } from '../words.ts';
import type { BookingDraft } from './booking-draft.ts';
import type { Dropped } from './carry.ts';
import { DayBar, type View } from './day-bar.tsx';
import { DaySheet } from './day-sheet.tsx';
import { ExceptionList } from './exception-list.tsx';
import { FindBox } from './find-box.tsx';
import { Gaps } from './gaps.tsx';
import { Ledge } from './ledge.tsx';
import { hoursOf } from './opening.ts';
import { PromiseList } from './promise-list.tsx';

const BookingDialog = later(async () => (await import('./booking-dialog.tsx')).BookingDialog);
const JobPanel = later(async () => (await import('./job-panel.tsx')).JobPanel);
const PhoneDialog = later(async () => (await import('./phone-dialog.tsx')).PhoneDialog);
const WeekSheet = later(async () => (await import('./week-sheet.tsx')).WeekSheet);
const WhatIfDialog = later(async () => (await import('./what-if-dialog.tsx')).WhatIfDialog);

/** The desk: what presses, the day or the week by bay, the promises, and booking. */
function Desk({ shop }: { shop: Shop }) {
  const at = `/v1/shops/${shop.id}`;
  const zone = shop.timeZone;
  const today = localDateOf(zone, Date.now());
  const [day, setDay] = useState(today);
  const [view, setView] = useState<View>('place');
  const [chosen, setChosen] = useState<string | null>(new URLSearchParams(location.search).get('job'));
  const [booking, setBooking] = useState<Partial<BookingDraft> | null>(null);
  const [calling, setCalling] = useState(false);
  const [news, setNews] = useState(0);
  const [todays, readTodays] = useReading<TimelineReply>(`${at}/timeline?day=${today}`);
  const [another, readAnother] = useReading<TimelineReply>(day === today ? null : `${at}/timeline?day=${day}`);
  const timeline = useLastShown(day === today ? todays : another);
  const [plan, readPlan] = useReading<Plan>(view === 'week' ? `${at}/plan` : null);
  const [open, readOpen] = useReading<PageOf<JobLine>>(`${at}/jobs?state=held,booked,inShop&limit=200`);
  const [promises, readPromises] = useReading<PageOf<PromiseOutlook>>(`${at}/promises?limit=200`);
  const [exceptions, readExceptions] = useReading<PageOf<DeskException>>(`${at}/exceptions?limit=50`);
  const [places] = useReading<PageOf<Place>>(`${at}/places?limit=100`);
  const [people] = useReading<PageOf<Technician>>(`${at}/technicians?limit=100`);
  const [dropped, setDropped] = useState<Dropped | null>(null);
  // Large, and asked for by dialogs only: after the day is there.
  const [recipes] = useReading<PageOf<Recipe>>(todays.value ? `${at}/recipes?limit=100` : null);
  const readAll = useCallback(() => {
    for (const readAgain of [readTodays, readAnother, readPlan, readOpen, readPromises, readExceptions]) readAgain();
    setNews((count) => count + 1);
  }, [readTodays, readAnother, readPlan, readOpen, readPromises, readExceptions]);
  useNews(shop.id, readAll);
  const jobs = useMemo(
    () => new Map((open.value?.items ?? []).map(({ job }) => [job.id as string, job])),
    [open.value],
  );
  const outlooks = promises.value?.items ?? [];
  const risky = new Set<string>(outlooks.filter((each) => each.atRisk).map((each) => each.jobId));
  const asked = shop.promiseConfidencePercent;
  const choose = (jobId: string | null) => {
    setChosen(jobId);
    const address = new URL(location.href);
    if (jobId === null) address.searchParams.delete('job');
    else address.searchParams.set('job', jobId);
    history.replaceState(null, '', address);
  };
  const sheet = { places: places.value?.items ?? [], jobs, risky, chosen, onChoose: choose };

  return (
    <div class="stack">
      <DayBar
        day={day}
        today={today}
        view={view}
        onDay={setDay}
        onView={setView}
        onBook={() => setBooking({})}
        onPhone={() => setCalling(true)}
      />
      {booking ? (
        <BookingDialog
          shop={shop}
          recipes={recipes.value?.items ?? []}
          people={people.value?.items ?? []}
          begunWith={booking}
          onTaken={(jobId) => {
            choose(jobId);
            readAll();
          }}
          onClose={() => setBooking(null)}
        />
      ) : null}
      {calling ? (
        <PhoneDialog
          shop={shop}
          places={sheet.places}
          people={people.value?.items ?? []}
          recipes={recipes.value?.items ?? []}
          onChoose={(jobId) => {
            setCalling(false);
            choose(jobId);
          }}
          onBook={(draft) => {
            setCalling(false);
            setBooking(draft);
          }}
          onClose={() => setCalling(false)}
        />
      ) : null}
      {dropped ? (
        <WhatIfDialog
          shop={shop}
          places={sheet.places}
          people={people.value?.items ?? []}
          dropped={dropped}
          by={view === 'person' ? 'person' : 'place'}
          onChange={readAll}
          onClose={() => setDropped(null)}
        />
      ) : null}
      <Ledge
        today={todays.value}
        jobs={jobs}
        promises={promises.value?.items ?? null}
        asked={asked}
        zone={zone}
        onChoose={choose}
      />
      <div class="columns">
        <div>
          {timeline.state === 'failed' ? <ProblemNote error={timeline.error} onRetry={readAll} /> : null}
          {view === 'week' && plan.value ? (
            <WeekSheet
              {...sheet}
              shop={shop}
              plan={plan.value}
              day={day}
              onDay={(each) => {
                setDay(each);
                setView('place');
              }}
            />
          ) : null}
          {view !== 'week' && timeline.value ? <Quiet shop={shop} timeline={timeline.value} /> : null}
          {view !== 'week' && timeline.value ? (
            <DaySheet {...sheet} timeline={timeline.value} zone={zone} by={view} onDrop={setDropped} />
          ) : null}
          {isAwaited(view === 'week' ? plan : timeline) ? <p class="quiet">{words.loading}</p> : null}
          <Key />
        </div>
        <div class="stack">
          {chosen === null ? null : (
            <JobPanel
              shop={shop}
              jobId={chosen}
              asOf={news}
              places={sheet.places}
              recipes={recipes.value?.items ?? []}
              outlook={outlooks.find((each) => each.jobId === chosen)}
              people={people.value?.items ?? []}
              onWhatIf={() => setDropped({ jobId: chosen, operation: null, column: null, startAt: null })}
              onChange={readAll}
              onClose={() => choose(null)}
            />
          )}
          {todays.value ? (
            <Gaps today={todays.value} places={sheet.places} now={Date.now()} shop={shop} onFill={setBooking} />
          ) : null}
          <FindBox shop={shop} onChoose={choose} />
          <ExceptionList
            shopId={shop.id}
            zone={zone}
            exceptions={exceptions.value}
            onChange={readExceptions}
            onChoose={choose}
          />
          <PromiseList promises={promises.value?.items ?? null} asked={asked} zone={zone} onChoose={choose} />
        </div>
      </div>
    </div>
  );
}

const isAwaited = ({ state, value }: Reading<unknown>) => state === 'loading' && value === null;

/** Why a day looks empty. */
function Quiet({ shop, timeline: { date, places } }: { shop: Shop; timeline: TimelineReply }) {
  const closed = hoursOf(shop, date).length === 0;
  const empty = places.every(({ stays }) => stays.length === 0);
  if (!closed && !empty) return null;
  return <p class="note">{[closed ? words.sheet.closed : '', empty ? words.sheet.empty : ''].join(' ')}</p>;
}

/** What the hatchings stand for. */
function Key() {
  return (
    <ul class="key">
      <li>
        <span class="swatch work underWay" /> {words.doing.underWay}
      </li>
      {(['work', 'still', 'wait', 'move', 'shut'] as const).map((each) => (
        <li key={each}>
          <span class={`swatch ${each}`} /> {words.doing[each]}
        </li>
      ))}
      <li>
        <span class="swatch fuse-swatch" /> {words.doing.fuse}
      </li>
      <li>
        <span class="swatch" /> {words.doing.finished}
      </li>
      <li>
        <span class="nail" /> {deskWords.wishes.kept}
      </li>
      <li class="quiet no-print">{deskWords.whatIf.hint}</li>
    </ul>
  );
}

showScreen('desk', Desk);
