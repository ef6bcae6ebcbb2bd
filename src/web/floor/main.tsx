import { useCallback, useState } from 'preact/hooks';
import type { Me, PageOf, QueueItem, QueueReply, Shop, Technician } from '../../api/replies.ts';
import { Tick } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { clockTime } from '../time/format.ts';
import { useNews } from '../wire/use-news.ts';
import { floorWords } from '../words/floor.ts';
import { words } from '../words.ts';
import { withKept } from './act.ts';
import { useAlarmsOn } from './alarm.ts';
import { DayLine, nameOf } from './day-line.tsx';
import { joinRests } from './join-rests.ts';
import { useOutbox } from './outbox.ts';
import { OutboxNote } from './outbox-note.tsx';
import { ReadingsForm } from './readings-form.tsx';
import { TaskCard } from './task-card.tsx';
import { useAwake } from './use-awake.ts';
import { useKeptReading } from './use-kept-reading.ts';
import { useWhoWorks } from './use-who-works.ts';
import { useWindowAlarms } from './window-alarms.ts';
import { WindowsNote } from './windows-note.tsx';

const text = floorWords;

/** Today's queue of one person, on a tablet. */
function Floor({ shop, me: account }: { shop: Shop; me: Me | null }) {
  const [me, choose] = useWhoWorks(account, shop.id);
  const technicians = useKeptReading<PageOf<Technician>>(`/v1/shops/${shop.id}/technicians?limit=100`);
  const people = technicians.value?.items ?? [];
  const known = people.find((each) => each.id === me);
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
  const [picked, setPicked] = useState<string | null>(null);
  const items = withKept(joinRests(queue.value?.items ?? []), outbox.kept);
  useWindowAlarms(alarms, items);
  useAwake(items.some((item) => item.when === 'now'));
  const front = inFront(items, picked);
  const pick = (item: QueueItem) => {
    setPicked(nameOf(item));
    document.querySelector('.front')?.scrollIntoView({ block: 'nearest' });
  };
  const zone = shop.timeZone;
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
      <OutboxNote kept={outbox.kept.length} refused={outbox.refused} />
      <WindowsNote items={items} front={front ? nameOf(front) : null} onPick={pick} />
      <div class="work-and-day">
        <div class="front">
          {front ? (
            <TaskCard
              key={nameOf(front)}
              shop={shop}
              me={me.id}
              item={front}
              people={people}
              onDone={readAgain}
              onLeft={() => setPicked((now) => (now === nameOf(front) ? null : now))}
              alarms={alarms}
            />
          ) : null}
          {front === undefined && items.length > 0 ? <p class="note">{text.nothingMore}</p> : null}
          <ReadingsForm shop={shop} onDone={readAgain} />
        </div>
        <DayLine items={items} front={front ? nameOf(front) : null} zone={zone} onPick={pick} />
      </div>
    </div>
  );
}

/** What was picked, else what is under way, else what is due, else what comes next. */
function inFront(items: readonly QueueItem[], picked: string | null): QueueItem | undefined {
  const now = items.filter((item) => item.when === 'now');
  return (
    items.find((item) => nameOf(item) === picked) ??
    now.find((item) => item.planned.state === 'underWay') ??
    now[0] ??
    items.find((item) => item.when === 'next') ??
    items.find((item) => item.when === 'later')
  );
}

showScreen('floor', Floor);
