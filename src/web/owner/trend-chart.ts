import { BarController, BarElement, CategoryScale, Chart, Legend, LinearScale, Tooltip } from 'chart.js';
import type { WeekTotal } from '../../api/replies.ts';
import { duration, shortDay } from '../time/format.ts';
import { ownerWords } from '../words/owner.ts';
import { trendParts } from './trend.tsx';

Chart.register(BarController, BarElement, CategoryScale, Legend, LinearScale, Tooltip);

const fills = {
  worked: '--work',
  curing: '--still',
  waiting: '--wait',
  blocked: '--sunk',
  empty: '--sheet',
} as const;

/** Draws the weeks as stacked bars with the hatchings of the house. Returns how to take it away again. */
export function drawTrend(canvas: HTMLCanvasElement, weeks: readonly WeekTotal[]): () => void {
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string) => style.getPropertyValue(name).trim();
  const chart = new Chart(canvas, {
    type: 'bar',
    data: {
      labels: weeks.map((week) => shortDay(week.monday)),
      datasets: trendParts.map((part) => ({
        label: ownerWords.parts[part] ?? part,
        data: weeks.map((week) => week[part] / 60),
        backgroundColor: hatch(part, colour(fills[part]), colour('--hatch')),
        borderColor: colour('--rule-strong'),
        borderWidth: 1,
        stack: 'week',
      })),
    },
    options: {
      animation: false,
      maintainAspectRatio: false,
      font: { family: style.fontFamily },
      color: colour('--ink'),
      scales: {
        x: { stacked: true, grid: { display: false }, ticks: { color: colour('--ink') } },
        y: {
          stacked: true,
          grid: { color: colour('--rule') },
          ticks: { color: colour('--ink-soft') },
          title: { display: true, text: ownerWords.trendOf, color: colour('--ink-soft') },
        },
      },
      plugins: {
        legend: { position: 'top', align: 'start', labels: { boxWidth: 24, color: colour('--ink') } },
        tooltip: {
          callbacks: { label: ({ dataset, parsed }) => `${dataset.label}: ${duration((parsed.y ?? 0) * 60)}` },
        },
      },
    },
  });
  return () => chart.destroy();
}

/** A tile of the hatching that stands for a part elsewhere on the screens. */
function hatch(part: (typeof trendParts)[number], fill: string, ink: string): CanvasPattern | string {
  const tile = document.createElement('canvas');
  tile.width = tile.height = 8;
  const pen = tile.getContext('2d');
  if (pen === null) return fill;
  pen.fillStyle = fill;
  pen.fillRect(0, 0, 8, 8);
  pen.globalAlpha = 0.35;
  pen.strokeStyle = pen.fillStyle = ink;
  pen.lineWidth = 1;
  pen.beginPath();
  if (part === 'curing' || part === 'blocked') {
    pen.moveTo(-2, 10);
    pen.lineTo(10, -2);
  }
  if (part === 'blocked') {
    pen.moveTo(-2, -2);
    pen.lineTo(10, 10);
  }
  pen.stroke();
  if (part === 'waiting') pen.fillRect(3, 3, 1.5, 1.5);
  return pen.createPattern(tile, 'repeat') ?? fill;
}
