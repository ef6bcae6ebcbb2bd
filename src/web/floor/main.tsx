import { useCallback, useState } from 'preact/hooks';
import type { PageOf, QueueItem, QueueReply, Shop, Technician } from '../../api/replies.ts';
import { Tick } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { clockTime } from '../time/format.ts';
import { useNews } from '../wire/use-news.ts';
import { words } from '../words.ts';
import { withKept } from './act.ts';
import { useAlarmsOn } from './alarm.ts';
import { useOutbox } from './outbox.ts';
import { OutboxNote } from './outbox-note.tsx';
import { ReadingsForm } from './readings-form.tsx';
import { TaskCard } from './task-card.tsx';
import { useKeptReading } from './use-kept-reading.ts';

const text = words.floor;
const ME_KEY = 'panelday.technician';

/** Today's queue of one person, on a tablet. */
function Floor({ shop }: { shop: Shop }) {
  const [me, setMe] = useState<string | null>(localStorage.getItem(ME_KEY));
  const technicians = useKeptReading<PageOf<Technician>>(`/v1/shops/${shop.id}/technicians?limit=100`);
  const people = technicians.value?.items ?? [];
  const known = people.find((each) => each.id === me);
  const choose = (id: string | null) => {
    if (id === null) localStorage.removeItem(ME_KEY);
    else localStorage.setItem(ME_KEY, id);
    setMe(id);
  };
  if (known) return <Day shop={shop} me={known} people={people} onChange={() => choose(null)} />;
  return (
    <div class="floor">
      <h1>{text.who}</h1>
      <ProblemNote error={technicians.error} onRetry={technicians.again} />
      <div class="people">
        {people.map((each) => (
          <button type="button" key={each.id} onClick={() => choose(each.id)}>
            {each.name}
            {each.lead ? <small>{text.lead}</small> : null}
          </button>
        ))}
      </div>
    </div>
  );
}

interface DayProps {
  readonly shop: Shop;
  readonly me: Technician;
  readonly people: readonly Technician[];
  readonly onChange: () => void;
}

function Day({ shop, me, people, onChange }: DayProps) {
  const queue = useKeptReading<QueueReply>(`/v1/shops/${shop.id}/technicians/${me.id}/queue`);
  const readAgain = useCallback(queue.again, [queue.again]);
  useNews(shop.id, readAgain);
  const outbox = useOutbox(readAgain);
  const [alarms, setAlarms] = useAlarmsOn();
  const items = withKept(queue.value?.items ?? [], outbox.kept);
  const of = (when: QueueItem['when']) => items.filter((item) => item.when === when);
  const [next] = of('next');
  const zone = shop.timeZone;
  const card = (item: QueueItem) => (
    <TaskCard
      key={item.jobId + item.operation}
      shop={shop}
      me={me.id}
      item={item}
      people={people}
      alarms={alarms}
      onDone={readAgain}
    />
  );
  return (
    <div class="floor">
      <div class="bar">
        <h1>{me.name}</h1>
        <button type="button" onClick={onChange}>
          {text.change}
        </button>
        <span class="push">
          <Tick label={text.alarms} on={alarms} onTick={setAlarms} />
        </span>
      </div>
      {queue.oldFrom ? <p class="note watch">{text.oldQueue(clockTime(zone, queue.oldFrom))}</p> : null}
      {queue.error && !queue.oldFrom ? <ProblemNote error={queue.error} onRetry={readAgain} /> : null}
      {queue.value === null && queue.loading ? <p>{words.loading}</p> : null}
      {queue.value && items.length === 0 ? <p class="note">{text.nothing}</p> : null}
      <section aria-label={text.now}>
        <h2>{text.now}</h2>
        {of('now').map(card)}
        {of('now').length === 0 && next ? (
          <p class="note">{text.nothingNow(clockTime(zone, next.planned.start))}</p>
        ) : null}
      </section>
      {next ? (
        <section aria-label={text.next}>
          <h2>{text.next}</h2>
          {of('next').map(card)}
        </section>
      ) : null}
      <ReadingsForm shop={shop} onDone={readAgain} />
      {(['later', 'done'] as const).map((when) =>
        of(when).length === 0 ? null : (
          <section key={when} aria-label={text[when]}>
            <h2>{text[when]}</h2>
            <ol class="later">
              {of(when).map((item) => (
                <li key={item.jobId + item.operation}>
                  <strong>
                    {when === 'done' ? '✓ ' : ''}
                    {clockTime(zone, item.planned.start)}–{clockTime(zone, item.planned.end)}
                  </strong>
                  <span>
                    {item.planned.label} · {item.car}
                  </span>
                  <span class="quiet">
                    {item.placeName}
                    {item.windowClosesAt && when === 'later'
                      ? ` · ${text.window} ${clockTime(zone, item.windowClosesAt)}`
                      : ''}
                  </span>
                </li>
              ))}
            </ol>
          </section>
        ),
      )}
      <OutboxNote kept={outbox.kept.length} refused={outbox.refused} />
    </div>
  );
}

showScreen('floor', Floor);
