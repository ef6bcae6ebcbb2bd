import { useState } from 'preact/hooks';
import type { PageOf, QueueReply, Shop, Technician } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { useNews } from '../wire/use-news.ts';
import { useReading } from '../wire/use-reading.ts';
import { words } from '../words.ts';
import { ReadingsForm } from './readings-form.tsx';
import { TaskCard } from './task-card.tsx';

const text = words.floor;
const ME_KEY = 'panelday.technician';

/** Today's queue of one person, on a tablet. */
function Floor({ shop }: { shop: Shop }) {
  const [me, setMe] = useState<string | null>(localStorage.getItem(ME_KEY));
  const [technicians] = useReading<PageOf<Technician>>(`/v1/shops/${shop.id}/technicians?limit=100`);
  const people = technicians.value?.items ?? [];
  const known = people.find((each) => each.id === me);
  const [queue, readQueue] = useReading<QueueReply>(
    known ? `/v1/shops/${shop.id}/technicians/${known.id}/queue` : null,
  );
  useNews(shop.id, readQueue);
  const choose = (id: string | null) => {
    if (id === null) localStorage.removeItem(ME_KEY);
    else localStorage.setItem(ME_KEY, id);
    setMe(id);
  };

  if (!known)
    return (
      <div class="floor">
        <h1>{text.who}</h1>
        {technicians.state === 'failed' ? <ProblemNote error={technicians.error} /> : null}
        <div class="people">
          {people.map((each) => (
            <button type="button" key={each.id} onClick={() => choose(each.id)}>
              {each.name}
            </button>
          ))}
        </div>
      </div>
    );
  const items = queue.value?.items ?? [];
  return (
    <div class="floor">
      <div class="bar">
        <h1>{known.name}</h1>
        <button type="button" onClick={() => choose(null)}>
          {text.change}
        </button>
      </div>
      {queue.state === 'failed' ? <ProblemNote error={queue.error} onRetry={readQueue} /> : null}
      {queue.state === 'ready' && items.length === 0 ? <p>{text.nothing}</p> : null}
      {(['now', 'next', 'later', 'done'] as const).map((when) => {
        const cards = items.filter((item) => item.when === when);
        return cards.length === 0 ? null : (
          <section key={when} aria-label={text[when]}>
            <h2>{text[when]}</h2>
            {cards.map((item) => (
              <TaskCard
                key={item.jobId + item.operation}
                shopId={shop.id}
                zone={shop.timeZone}
                me={known.id}
                item={item}
                people={people}
                onDone={readQueue}
              />
            ))}
          </section>
        );
      })}
      <ReadingsForm shop={shop} />
    </div>
  );
}

showScreen('floor', Floor);
