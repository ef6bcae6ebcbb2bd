import { useCallback, useState } from 'preact/hooks';
import type { DeskException, PageOf, PromiseOutlook, Shop, TimelineReply } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { daysAfter, localDateOf, longDay } from '../time/format.ts';
import { useNews } from '../wire/use-news.ts';
import { useReading } from '../wire/use-reading.ts';
import { words } from '../words.ts';
import { BookingForm } from './booking-form.tsx';
import { DaySheet } from './day-sheet.tsx';
import { ExceptionList } from './exception-list.tsx';
import { JobPanel } from './job-panel.tsx';
import { PromiseList } from './promise-list.tsx';

/** The desk: the day by bay, the promises and what endangers them, and booking. */
function Desk({ shop }: { shop: Shop }) {
  const at = `/v1/shops/${shop.id}`;
  const today = localDateOf(shop.timeZone, Date.now());
  const [day, setDay] = useState(today);
  const [by, setBy] = useState<'place' | 'person'>('place');
  const [chosen, setChosen] = useState<string | null>(null);
  const [booking, setBooking] = useState(false);
  const [news, setNews] = useState(0);
  const [timeline, readTimeline] = useReading<TimelineReply>(`${at}/timeline?day=${day}`);
  const [promises, readPromises] = useReading<PageOf<PromiseOutlook>>(`${at}/promises?limit=100`);
  const [exceptions, readExceptions] = useReading<PageOf<DeskException>>(`${at}/exceptions?limit=50`);
  const readAll = useCallback(() => {
    readTimeline();
    readPromises();
    readExceptions();
    setNews((count) => count + 1);
  }, [readTimeline, readPromises, readExceptions]);
  useNews(shop.id, readAll);
  const showTaken = (jobId: string) => {
    setChosen(jobId);
    readAll();
  };

  return (
    <div class="stack">
      <div class="bar no-print">
        <h1>{longDay(day)}</h1>
        <button type="button" onClick={() => setDay(daysAfter(day, -1))}>
          {words.day.before}
        </button>
        <button type="button" onClick={() => setDay(today)} disabled={day === today}>
          {words.day.today}
        </button>
        <button type="button" onClick={() => setDay(daysAfter(day, 1))}>
          {words.day.after}
        </button>
        <input
          type="date"
          aria-label={words.day.pick}
          value={day}
          onChange={(event) => event.currentTarget.value && setDay(event.currentTarget.value)}
        />
        <button type="button" onClick={() => setBy(by === 'place' ? 'person' : 'place')}>
          {by === 'place' ? words.sheet.showPeople : words.sheet.showPlaces}
        </button>
        <button type="button" class="main" aria-expanded={booking} onClick={() => setBooking(!booking)}>
          {booking ? words.close : words.booking.open}
        </button>
      </div>
      {booking ? <BookingForm shop={shop} onTaken={showTaken} /> : null}
      <div class="columns">
        <div>
          {timeline.state === 'failed' ? <ProblemNote error={timeline.error} onRetry={readTimeline} /> : null}
          {timeline.value ? (
            <DaySheet timeline={timeline.value} zone={shop.timeZone} by={by} chosen={chosen} onChoose={setChosen} />
          ) : (
            <p>{words.loading}</p>
          )}
          <ul class="key">
            {(['work', 'still', 'wait', 'move'] as const).map((each) => (
              <li key={each}>
                <span class={`swatch ${each}`} /> {words.doing[each]}
              </li>
            ))}
          </ul>
        </div>
        <div class="stack">
          <JobPanel shop={shop} jobId={chosen} asOf={news} onChange={readAll} />
          <ExceptionList
            shopId={shop.id}
            zone={shop.timeZone}
            exceptions={exceptions.value}
            onChange={readExceptions}
          />
          <PromiseList promises={promises.value} zone={shop.timeZone} onChoose={setChosen} />
        </div>
      </div>
    </div>
  );
}

showScreen('desk', Desk);
