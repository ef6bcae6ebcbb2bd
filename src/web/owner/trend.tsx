import { useEffect, useRef } from 'preact/hooks';
import type { WeekTotal } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { duration, shortDay } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { ownerWords } from '../words/owner.ts';
import { FigurePanel, WideTable } from './figure-panel.tsx';

const text = ownerWords;
export const trendParts = ['worked', 'curing', 'waiting', 'blocked', 'empty'] as const;

/** Some weeks before and after the one shown: all bays together, as a chart with the figures behind it. */
export function Trend({ at, monday }: { at: string; monday: string }) {
  const [reading, again] = useReading<{ weeks: WeekTotal[] }>(`${at}/weeks?monday=${monday}`);
  const weeks = reading.value?.weeks;
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    if (canvas.current === null || weeks === undefined) return;
    const target = canvas.current;
    let remove = () => {};
    let left = false;
    void import('./trend-chart.ts').then(({ drawTrend }) => {
      if (!left) remove = drawTrend(target, weeks);
    });
    return () => {
      left = true;
      remove();
    };
  }, [weeks]);
  return (
    <FigurePanel id="trend" title={text.trend} how={text.facts} csv={`${at}/weeks.csv?monday=${monday}`}>
      {reading.state === 'failed' ? <ProblemNote error={reading.error} onRetry={again} /> : null}
      <div class="chart" aria-hidden="true">
        <canvas ref={canvas} />
      </div>
      <WideTable caption={text.trendOf}>
        <thead>
          <tr>
            <th scope="col">{text.weekStarts}</th>
            {[...trendParts.map((part) => text.parts[part]), text.open, text.kept, text.broken].map((each) => (
              <th scope="col" class="number" key={each}>
                {each}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {weeks?.map((week) => (
            <tr key={week.monday} aria-current={week.monday === monday ? 'date' : undefined}>
              <th scope="row">{shortDay(week.monday)}</th>
              {trendParts.map((part) => (
                <td class="number" key={part}>
                  {duration(week[part])}
                </td>
              ))}
              <td class="number">{duration(week.open)}</td>
              <td class="number">{week.promisesKept}</td>
              <td class="number">{week.promisesBroken}</td>
            </tr>
          ))}
        </tbody>
      </WideTable>
    </FigurePanel>
  );
}
