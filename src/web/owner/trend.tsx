import { useEffect, useRef, useState } from 'preact/hooks';
import type { WeekReply } from '../../api/replies.ts';
import { daysAfter, duration, shortDay } from '../time/format.ts';
import { read } from '../wire/api.ts';
import { words } from '../words.ts';

const text = words.owner;
const WEEKS_BEFORE = 3;
const WEEKS_AFTER = 2;
export const trendParts = ['worked', 'curing', 'waiting', 'blocked', 'empty'] as const;

export interface TrendWeek {
  readonly monday: string;
  readonly minutes: Readonly<Record<(typeof trendParts)[number], number>>;
  readonly kept: number;
  readonly broken: number;
}

/** Some weeks before and after the one shown: all bays together, as a chart with the figures behind it. */
export function Trend({ shopId, monday }: { shopId: string; monday: string }) {
  const [weeks, setWeeks] = useState<readonly TrendWeek[]>([]);
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const left = new AbortController();
    const offsets = Array.from({ length: WEEKS_BEFORE + WEEKS_AFTER + 1 }, (_, index) => index - WEEKS_BEFORE);
    Promise.all(
      offsets.map((each) =>
        read<WeekReply>(`/v1/shops/${shopId}/utilisation?monday=${daysAfter(monday, 7 * each)}`, left.signal),
      ),
    ).then(
      (replies) => setWeeks(replies.map(summed)),
      () => undefined,
    );
    return () => left.abort();
  }, [shopId, monday]);
  useEffect(() => {
    if (canvas.current === null || weeks.length === 0) return;
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
    <section class="panel" aria-label={text.trend}>
      <h2>{text.trend}</h2>
      <div class="chart" aria-hidden="true">
        <canvas ref={canvas} />
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section class="scroll weektable" aria-label={text.trendOf} tabIndex={0}>
        <table>
          <caption class="visually-hidden">{text.trendOf}</caption>
          <thead>
            <tr>
              <th scope="col">{text.weekStarts}</th>
              {trendParts.map((part) => (
                <th scope="col" class="number" key={part}>
                  {text.parts[part]}
                </th>
              ))}
              <th scope="col" class="number">
                {text.kept}
              </th>
              <th scope="col" class="number">
                {text.broken}
              </th>
            </tr>
          </thead>
          <tbody>
            {weeks.map((week) => (
              <tr key={week.monday}>
                <th scope="row">{shortDay(week.monday)}</th>
                {trendParts.map((part) => (
                  <td class="number" key={part}>
                    {duration(week.minutes[part])}
                  </td>
                ))}
                <td class="number">{week.kept}</td>
                <td class="number">{week.broken}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p class="quiet">{text.facts}</p>
    </section>
  );
}

function summed(week: WeekReply): TrendWeek {
  const total = (part: (typeof trendParts)[number]) => week.bays.reduce((sum, bay) => sum + bay[part], 0);
  return {
    monday: week.monday,
    minutes: {
      worked: total('worked'),
      curing: total('curing'),
      waiting: total('waiting'),
      blocked: total('blocked'),
      empty: total('empty'),
    },
    kept: week.promises.kept,
    broken: week.promises.broken,
  };
}
