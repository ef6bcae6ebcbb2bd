import { BarController, BarElement, CategoryScale, Chart, LinearScale, Tooltip } from 'chart.js';

Chart.register(BarController, BarElement, CategoryScale, LinearScale, Tooltip);

interface Bar {
  readonly label: string;
  readonly value: number;
}

/** Draws bars that lie, the greatest on top. Returns how to take them away again. */
export function drawBars(
  canvas: HTMLCanvasElement,
  bars: readonly Bar[],
  title: string,
  write: (value: number) => string,
): () => void {
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string) => style.getPropertyValue(name).trim();
  const chart = new Chart(canvas, {
    type: 'bar',
    data: {
      labels: bars.map(({ label }) => label),
      datasets: [
        {
          label: title,
          data: bars.map(({ value }) => value),
          backgroundColor: colour('--work'),
          borderColor: colour('--rule-strong'),
          borderWidth: 1,
          maxBarThickness: 28,
        },
      ],
    },
    options: {
      indexAxis: 'y',
      animation: false,
      maintainAspectRatio: false,
      font: { family: style.fontFamily },
      scales: {
        x: {
          beginAtZero: true,
          grid: { color: colour('--rule') },
          ticks: { color: colour('--ink-soft'), callback: (value) => write(Number(value)) },
          title: { display: true, text: title, color: colour('--ink-soft') },
        },
        y: { grid: { display: false }, ticks: { color: colour('--ink') } },
      },
      plugins: { legend: { display: false }, tooltip: { callbacks: { label: ({ parsed }) => write(parsed.x ?? 0) } } },
    },
  });
  return () => chart.destroy();
}
