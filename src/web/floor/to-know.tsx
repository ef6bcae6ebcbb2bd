import type { QueueItem } from '../../api/replies.ts';
import { floorWords } from '../words/floor.ts';
import { StepClock } from './step-clock.tsx';

const text = floorWords;

/** What can hurt, in full: seen before the work, with what comes first where it differs. */
export function Cautions({ item }: { item: QueueItem }) {
  if (item.cautions.length === 0) return null;
  return (
    <details open={item.when === 'now'}>
      <summary>
        {text.cautions} ({item.cautions.length})
      </summary>
      <ul class="cautions">
        {item.cautions.map((caution) => (
          <li key={caution.hazard}>
            <strong>{caution.text}</strong>
            <br />
            {caution.precautions.join(' ')}
          </li>
        ))}
      </ul>
      <p class="quiet">{item.cautions[0]?.defersTo}</p>
    </details>
  );
}

/** How it is done, step by step, with the clocks that run in seconds. */
export function Steps({ item, alarms }: { item: QueueItem; alarms: boolean }) {
  if (item.instructions.length === 0) return null;
  return (
    <details open={item.when === 'now'}>
      <summary>{text.steps}</summary>
      <ol>
        {item.instructions.map((step, index) => (
          <li key={step.text}>
            {step.text}
            {step.clock ? (
              <StepClock clock={step.clock} kept={`${item.jobId} ${item.operation} ${index}`} alarms={alarms} />
            ) : null}
          </li>
        ))}
      </ol>
    </details>
  );
}

/** What is laid, how much of it, and the limits of air and panel with the last reading. */
export function ProductAndLimits({ item }: { item: QueueItem }) {
  const lines = [...item.products, ...item.conditions];
  if (lines.length === 0) return null;
  return (
    <details open={item.when === 'now'}>
      <summary>{text.products}</summary>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </details>
  );
}
