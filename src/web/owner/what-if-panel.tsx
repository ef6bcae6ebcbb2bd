import { useState } from 'preact/hooks';
import type { Range, WhatIfsReply } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { duration, longDuration } from '../time/format.ts';
import { Unreachable } from '../wire/api.ts';
import { ownerWords } from '../words/owner.ts';
import { words } from '../words.ts';
import { FigurePanel, WideTable } from './figure-panel.tsx';
import { RangeBar } from './range-bar.tsx';
import { useWhatIfs } from './use-what-ifs.ts';

const text = ownerWords.whatIf;
const MONTHS = ['4', '8', '16', '30'];

/** What has least left, and what one more bay, person, lamp or long Saturday would have done in months like the recent ones. */
export function WhatIfPanel({ at }: { at: string }) {
  const [demand, setDemand] = useState('100');
  const [months, setMonths] = useState('8');
  const { asking, ask, stop } = useWhatIfs();
  const query = `months=${months}&demandPercent=${demand}`;
  const planning = asking.state === 'planning' ? asking.progress : null;
  return (
    <FigurePanel
      id="what-if"
      title={text.title}
      how={text.how}
      {...(asking.state === 'answered' ? { csv: csvOf(at, asking.answer) } : {})}
    >
      <div class="askbar no-print">
        <Field
          label={text.demand}
          value={demand}
          onValue={setDemand}
          options={Object.entries(text.demands).map(([value, label]) => ({ value, label }))}
        />
        <Field
          label={text.months}
          value={months}
          onValue={setMonths}
          options={MONTHS.map((value) => ({ value, label: value }))}
        />
        {asking.state === 'planning' ? (
          <button type="button" onClick={stop}>
            {text.stop}
          </button>
        ) : (
          <button type="button" class="main" onClick={() => ask(`${at}/what-ifs/events?${query}`)}>
            {text.ask}
          </button>
        )}
        <div role="status" class="progress">
          {asking.state === 'planning' ? (
            <>
              <progress max={planning?.of ?? 1} value={planning?.planned ?? 0} aria-label={text.ask} />
              <span>{planning ? text.progress(planning.planned, planning.of) : words.loading}</span>
            </>
          ) : null}
        </div>
      </div>
      {asking.state === 'failed' ? (
        <ProblemNote error={asking.error.message === '' ? new Unreachable() : asking.error} />
      ) : null}
      {asking.state === 'answered' ? <Answer answer={asking.answer} /> : null}
    </FigurePanel>
  );
}

function csvOf(at: string, { terms }: WhatIfsReply): string {
  return `${at}/what-ifs.csv?months=${terms.months}&demandPercent=${terms.demandPercent}&seed=${terms.seed}`;
}

function Answer({ answer }: { answer: WhatIfsReply }) {
  if (answer.cars.most === 0) return <p class="note">{text.nothing}</p>;
  const shares = [...answer.bays, ...answer.people].sort((a, b) => b.percent.median - a.percent.median);
  const [tightest] = shares;
  return (
    <>
      <p>
        <strong>{text.late(spread(answer.lateCars, figure), spread(answer.cars, figure))}.</strong>{' '}
        {tightest ? `${text.tightest(tightest.name, spread(tightest.percent, percent))}. ` : ''}
        <span class="quiet">{text.drawnFrom(answer.drawnFrom.jobs, answer.drawnFrom.weeks, answer.months)}</span>
      </p>
      <h3>{text.table}</h3>
      <WideTable caption={text.table}>
        <thead>
          <tr>
            <th scope="col">{text.change}</th>
            {[text.lateCars, text.lateHours, text.wait].map((each) => (
              <th scope="col" class="number" key={each}>
                {each}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {answer.changes.map((each) => (
            <tr key={each.change}>
              <th scope="row">
                {text.changes[each.change]}
                {each.like === '' ? null : <small>{text.like(each.like)}</small>}
              </th>
              <Change range={each.lateCarsChange} write={figure} />
              <Change range={each.lateMinutesChange} write={(minutes) => duration(minutes)} />
              <Change range={each.waitMinutesChange} write={longDuration} />
            </tr>
          ))}
        </tbody>
      </WideTable>
      <p class="quiet">{text.meaning}</p>
      <h3>{text.taken}</h3>
      <WideTable caption={text.taken}>
        <thead>
          <tr>
            <th scope="col">{text.placeOrPerson}</th>
            <th scope="col" colSpan={2}>
              {text.shareOf}
            </th>
            <th scope="col" class="number">
              {text.least}
            </th>
            <th scope="col" class="number">
              {text.most}
            </th>
          </tr>
        </thead>
        <tbody>
          {shares.map(({ id, name, percent: share }) => (
            <tr key={id}>
              <th scope="row">{name}</th>
              <td class="number">{percent(share.median)}</td>
              <td class="scale">
                <RangeBar at={share.median / 100} from={share.least / 100} to={share.most / 100} />
              </td>
              <td class="number">{percent(share.least)}</td>
              <td class="number">{percent(share.most)}</td>
            </tr>
          ))}
        </tbody>
      </WideTable>
    </>
  );
}

/** What a change does, the ends below it, and a word: better only when every month is. */
function Change({ range, write }: { range: Range; write: (figure: number) => string }) {
  const { median, least, most } = range;
  const none = least === 0 && most === 0;
  const word = none ? text.same : most <= 0 ? text.better : least >= 0 ? text.worse : text.unclear;
  return (
    <td class="number">
      <span class={`mark ${word === text.better ? 'safe' : word === text.worse ? 'soon' : 'plainmark'}`}>{word}</span>{' '}
      {none ? null : (
        <>
          {signed(median, write)}
          <small>{text.between(signed(least, write), signed(most, write))}</small>
        </>
      )}
    </td>
  );
}

const figure = (value: number) => String(Math.round(10 * value) / 10);
const percent = (value: number) => `${Math.round(value)} %`;
const signed = (value: number, write: (figure: number) => string) =>
  value === 0 ? write(0) : `${value < 0 ? '−' : '+'}${write(Math.abs(value))}`;

function spread({ median, least, most }: Range, write: (figure: number) => string): string {
  const middle = write(median);
  return write(least) === write(most) ? middle : `${middle} (${text.between(write(least), write(most))})`;
}
