import { useState } from 'preact/hooks';
import type { EstimateLine, EstimatesReply } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { duration } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { ownerWords } from '../words/owner.ts';
import { words } from '../words.ts';
import { FigurePanel, WideTable } from './figure-panel.tsx';
import { RangeBar } from './range-bar.tsx';
import { WeeksBack } from './weeks-back.tsx';

const text = ownerWords.estimates;
/** The scale runs from half as long to twice as long, and 100 % is its middle. */
const onScale = (percent: number) => 0.5 + Math.log2(percent / 100) / 2;
const percent = (figure: number) => `${Math.round(figure)} %`;

/** Recorded against planned durations: which norms are wrong, for which recipes, at whose hands. */
export function EstimatesPanel({ at, monday }: { at: string; monday: string }) {
  const [weeks, setWeeks] = useState(8);
  const query = `monday=${monday}&weeks=${weeks}`;
  const [reading, again] = useReading<EstimatesReply>(`${at}/estimates?${query}`);
  const { value } = reading;
  return (
    <FigurePanel
      id="estimates"
      title={text.title}
      how={text.how}
      csv={`${at}/estimates.csv?${query}`}
      acts={<WeeksBack weeks={weeks} onWeeks={setWeeks} />}
    >
      {reading.state === 'failed' ? <ProblemNote error={reading.error} onRetry={again} /> : null}
      {value === null && reading.state === 'loading' ? <p>{words.loading}</p> : null}
      {value && value.all === null ? <p class="note">{ownerWords.nothingYet}</p> : null}
      {value && value.all !== null
        ? (['kinds', 'recipes', 'people'] as const).map((by) => (
            <Lines key={by} caption={text[by]} lines={value[by]} all={value.all} />
          ))
        : null}
    </FigurePanel>
  );
}

function Lines({ caption, lines, all }: { caption: string; lines: readonly EstimateLine[]; all: EstimateLine | null }) {
  return (
    <>
      <h3>{caption}</h3>
      <WideTable caption={caption}>
        <thead>
          <tr>
            <th scope="col">{caption}</th>
            {[text.records, text.planned, text.worked].map((each) => (
              <th scope="col" class="number" key={each}>
                {each}
              </th>
            ))}
            <th scope="col" colSpan={2}>
              {text.ratio}
            </th>
            <th scope="col">{text.verdict}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.id}>
              <th scope="row">{line.name}</th>
              <Cells line={line} />
            </tr>
          ))}
        </tbody>
        {all ? (
          <tfoot>
            <tr>
              <th scope="row">{ownerWords.all}</th>
              <Cells line={all} />
            </tr>
          </tfoot>
        ) : null}
      </WideTable>
    </>
  );
}

function Cells({ line }: { line: EstimateLine }) {
  const { fromPercent, toPercent } = line;
  const known = fromPercent !== null && toPercent !== null;
  return (
    <>
      <td class="number">{line.records}</td>
      <td class="number">{duration(line.plannedMinutes)}</td>
      <td class="number">{duration(line.workedMinutes)}</td>
      <td class="number">
        {percent(line.percent)}
        {known ? <small>{text.interval(percent(fromPercent), percent(toPercent))}</small> : null}
      </td>
      <td class="scale">
        <RangeBar
          at={onScale(line.percent)}
          from={known ? onScale(fromPercent) : null}
          to={known ? onScale(toPercent) : null}
          against={0.5}
          clear={line.clear}
        />
      </td>
      <td>
        <Verdict line={line} />
      </td>
    </>
  );
}

function Verdict({ line }: { line: EstimateLine }) {
  if (line.clear) return <span class="mark soon">{line.percent > 100 ? text.longer : text.shorter}</span>;
  return <span class="quiet">{line.records < 5 ? text.few : text.asPlanned}</span>;
}
