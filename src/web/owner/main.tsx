import { useState } from 'preact/hooks';
import type { Shop, WeekReply } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { daysAfter, localDateOf, longDay, mondayOf } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { words } from '../words.ts';
import { WeekTable } from './week-table.tsx';

const text = words.owner;
const bayLook = { worked: 'work', curing: 'still', waiting: 'wait', blocked: 'blocked', empty: 'empty' };
const personLook = { worked: 'work', watched: 'watched', free: 'empty' };

/** The week by bay and by person, every part explained and adding up. */
function Owner({ shop }: { shop: Shop }) {
  const [monday, setMonday] = useState(mondayOf(localDateOf(shop.timeZone, Date.now())));
  const [week, again] = useReading<WeekReply>(`/v1/shops/${shop.id}/utilisation?monday=${monday}`);
  const value = week.value;
  return (
    <div class="stack">
      <div class="bar">
        <h1>{text.title}</h1>
        <button type="button" onClick={() => setMonday(daysAfter(monday, -7))}>
          {text.before}
        </button>
        <button type="button" onClick={() => setMonday(daysAfter(monday, 7))}>
          {text.after}
        </button>
        <span>
          {text.week} {longDay(monday)}
        </span>
      </div>
      {week.state === 'failed' ? <ProblemNote error={week.error} onRetry={again} /> : null}
      {value === null ? <p>{words.loading}</p> : null}
      {value ? (
        <>
          <WeekTable
            caption={text.bays}
            csv={`/v1/shops/${shop.id}/utilisation/bays.csv?monday=${monday}`}
            rows={value.bays.map((bay) => ({ id: bay.placeId, name: bay.name, open: bay.open, parts: { ...bay } }))}
            look={bayLook}
            names={text.parts}
          />
          <WeekTable
            caption={text.people}
            csv={`/v1/shops/${shop.id}/utilisation/people.csv?monday=${monday}`}
            rows={value.people.map((person) => ({
              id: person.technicianId,
              name: person.name,
              open: person.open,
              parts: { ...person },
            }))}
            look={personLook}
            names={text.personParts}
          />
          <section class="panel" aria-labelledby="due">
            <h2 id="due">{text.promises}</h2>
            <dl class="facts">
              {(['due', 'kept', 'broken'] as const).map((each) => (
                <>
                  <dt key={`${each}-name`}>{text[each]}</dt>
                  <dd key={each}>{value.promises[each]}</dd>
                </>
              ))}
              <dt>{text.stillOpen}</dt>
              <dd>{value.promises.open}</dd>
            </dl>
          </section>
          <dl class="facts panel">
            {Object.entries(text.meaning).map(([part, meaning]) => (
              <>
                <dt key={`${part}-name`}>{text.parts[part]}</dt>
                <dd key={part}>{meaning}</dd>
              </>
            ))}
            <dt>{text.open}</dt>
            <dd>{text.adds}</dd>
          </dl>
        </>
      ) : null}
    </div>
  );
}

showScreen('owner', Owner);
