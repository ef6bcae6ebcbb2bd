import { useState } from 'preact/hooks';
import type { Shop, WeekReply } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { daysAfter, localDateOf, longDay, mondayOf } from '../time/format.ts';
import { useNews } from '../wire/use-news.ts';
import { useReading } from '../wire/use-reading.ts';
import { ownerWords } from '../words/owner.ts';
import { words } from '../words.ts';
import { EstimatesPanel } from './estimates-panel.tsx';
import { PromisesPanel } from './promises-panel.tsx';
import { RevenuePanel } from './revenue-panel.tsx';
import { Sayings } from './sayings.tsx';
import { Trend } from './trend.tsx';
import { WeekTable } from './week-table.tsx';
import { WhatIfPanel } from './what-if-panel.tsx';

const text = ownerWords;
const bayLook = { worked: 'work', curing: 'still', waiting: 'wait', blocked: 'shut', empty: 'empty' };
const personLook = { worked: 'work', watched: 'watched', free: 'empty' };

const onPage = [
  ['week', text.bays],
  ['trend', text.trend],
  ['what-if', text.whatIf.short],
  ['revenue', text.revenue.short],
  ['estimates', text.estimates.short],
  ['promises', text.calibration.short],
] as const;

/** The week by bay and by person, every part explained and adding up. */
function Owner({ shop }: { shop: Shop }) {
  const thisMonday = mondayOf(localDateOf(shop.timeZone, Date.now()));
  const [monday, setMonday] = useState(thisMonday);
  const at = `/v1/shops/${shop.id}/utilisation`;
  const [week, again] = useReading<WeekReply>(`${at}?monday=${monday}`);
  useNews(shop.id, again);
  const { value } = week;
  return (
    <div class="stack">
      <div class="bar">
        <h1>{text.title}</h1>
        <div class="group no-print">
          <button type="button" aria-label={words.week.before} onClick={() => setMonday(daysAfter(monday, -7))}>
            ←
          </button>
          <button type="button" disabled={monday === thisMonday} onClick={() => setMonday(thisMonday)}>
            {text.thisWeek}
          </button>
          <button type="button" aria-label={words.week.after} onClick={() => setMonday(daysAfter(monday, 7))}>
            →
          </button>
        </div>
        <strong>
          {text.week} {longDay(monday)}
        </strong>
        <nav class="onpage push no-print" aria-label={text.onPage}>
          {onPage.map(([id, name]) => (
            <a key={id} href={`#${id}`}>
              {name}
            </a>
          ))}
        </nav>
      </div>
      {week.state === 'failed' ? <ProblemNote error={week.error} onRetry={again} /> : null}
      {value === null && week.state === 'loading' ? <p>{words.loading}</p> : null}
      {value ? (
        <>
          <div id="week">
            <Sayings week={value} />
          </div>
          <WeekTable
            caption={text.bays}
            csv={`${at}/bays.csv?monday=${monday}`}
            rows={value.bays.map(({ placeId, name, open, ...parts }) => ({ id: placeId, name, open, parts }))}
            look={bayLook}
            names={text.parts}
          />
          <WeekTable
            caption={text.people}
            csv={`${at}/people.csv?monday=${monday}`}
            rows={value.people.map(({ technicianId, name, open, overtime, ...parts }) => ({
              id: technicianId,
              name,
              open,
              parts,
              overtime,
            }))}
            look={personLook}
            names={text.personParts}
          />
        </>
      ) : null}
      <Trend at={at} monday={monday} />
      <WhatIfPanel at={at} />
      <RevenuePanel at={at} monday={monday} />
      <EstimatesPanel at={at} monday={monday} />
      <PromisesPanel shopId={shop.id} />
      <section class="panel" aria-label={text.meaningTitle}>
        <h2>{text.meaningTitle}</h2>
        <dl class="facts">
          {Object.entries(text.meaning).flatMap(([part, meaning]) => [
            <dt key={`${part}-name`}>{text.parts[part] ?? text.open}</dt>,
            <dd key={part}>{meaning}</dd>,
          ])}
        </dl>
      </section>
    </div>
  );
}

showScreen('owner', Owner);
