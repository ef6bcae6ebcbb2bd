import { useEffect, useRef, useState } from 'preact/hooks';
import type { RevenueReply } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { duration, money } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { ownerWords } from '../words/owner.ts';
import { words } from '../words.ts';
import { FigurePanel, WideTable } from './figure-panel.tsx';
import { WeeksBack } from './weeks-back.tsx';

const text = ownerWords.revenue;

/** What a bay hour brings, recipe by recipe: a chart, and the figures it is drawn from. */
export function RevenuePanel({ at, monday }: { at: string; monday: string }) {
  const [weeks, setWeeks] = useState(8);
  const query = `monday=${monday}&weeks=${weeks}`;
  const [reading, again] = useReading<RevenueReply>(`${at}/revenue?${query}`);
  const { value } = reading;
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const target = canvas.current;
    if (target === null || value === null || value.recipes.length === 0) return;
    let remove = () => {};
    let left = false;
    void import('./bars-chart.ts').then(({ drawBars }) => {
      if (left) return;
      const bars = value.recipes.map((line) => ({ label: line.name, value: (line.perBayHourMinor ?? 0) / 100 }));
      remove = drawBars(target, bars, text.perHour, (hundreds) => money(value.currency, hundreds * 100));
    });
    return () => {
      left = true;
      remove();
    };
  }, [value]);
  const cells = (line: RevenueReply['all'], currency: string) => (
    <>
      <td class="number">{line.cars}</td>
      <td class="number">{money(currency, line.revenueMinor)}</td>
      <td class="number">{duration(line.bayMinutes)}</td>
      <td class="number">{line.perBayHourMinor === null ? '–' : money(currency, line.perBayHourMinor)}</td>
    </>
  );
  return (
    <FigurePanel
      id="revenue"
      title={text.title}
      how={text.how}
      csv={`${at}/revenue.csv?${query}`}
      acts={<WeeksBack weeks={weeks} onWeeks={setWeeks} />}
    >
      {reading.state === 'failed' ? <ProblemNote error={reading.error} onRetry={again} /> : null}
      {value === null && reading.state === 'loading' ? <p>{words.loading}</p> : null}
      {value && value.recipes.length === 0 ? <p class="note">{ownerWords.nothingYet}</p> : null}
      {value && value.recipes.length > 0 ? (
        <>
          <div class="chart short" aria-hidden="true">
            <canvas ref={canvas} />
          </div>
          <WideTable caption={text.title}>
            <thead>
              <tr>
                <th scope="col">{text.recipe}</th>
                {[text.cars, text.sum, text.bayHours, text.perHour].map((each) => (
                  <th scope="col" class="number" key={each}>
                    {each}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {value.recipes.map((line) => (
                <tr key={line.recipeId}>
                  <th scope="row">{line.name}</th>
                  {cells(line, value.currency)}
                </tr>
              ))}
            </tbody>
            <tfoot>
              <tr>
                <th scope="row">{ownerWords.all}</th>
                {cells(value.all, value.currency)}
              </tr>
            </tfoot>
          </WideTable>
        </>
      ) : null}
    </FigurePanel>
  );
}
