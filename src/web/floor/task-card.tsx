import { useState } from 'preact/hooks';
import type { QueueItem, Technician } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { clockTime } from '../time/format.ts';
import { words } from '../words.ts';
import { start, tell } from './act.ts';
import { WindowClock } from './window-clock.tsx';

const text = words.floor;

interface TaskCardProps {
  readonly shopId: string;
  readonly zone: string;
  readonly me: string;
  readonly item: QueueItem;
  readonly people: readonly Technician[];
  readonly onDone: () => void;
}

/** One operation for gloved hands: what, where, when, which window, and the few things that can be done to it. */
export function TaskCard({ shopId, zone, me, item, people, onDone }: TaskCardProps) {
  const [error, setError] = useState<Error | null>(null);
  const [asking, setAsking] = useState<'hold' | 'handOver' | null>(null);
  const [reason, setReason] = useState('');
  const [to, setTo] = useState('');
  const { planned } = item;
  const attempt = async (work: Promise<unknown>) => {
    try {
      await work;
      setError(null);
      setAsking(null);
      onDone();
    } catch (failure) {
      setError(failure as Error);
    }
  };
  const say = (fact: Parameters<typeof tell>[2]) => attempt(tell(shopId, item.jobId, fact));
  const operation = item.operation;
  const heading = `task-${item.jobId}-${operation}`;
  return (
    <article class={`task ${item.when}`} aria-labelledby={heading}>
      <div class="when">
        {clockTime(zone, planned.start)}–{clockTime(zone, planned.end)} · {item.placeName}
      </div>
      <h3 id={heading}>{planned.label}</h3>
      <div>
        {item.car}{' '}
        <span class="mark">{planned.state === 'planned' ? text[item.when] : words.doing[planned.state]}</span>
        {planned.remedy ? <span class="mark soon">{words.job.remedy}</span> : null}
      </div>
      {item.windowClosesAt && item.when !== 'done' ? <WindowClock closesAt={item.windowClosesAt} zone={zone} /> : null}
      {item.when === 'now' || item.when === 'next' ? (
        <>
          <ToKnow item={item} open={item.when === 'now'} />
          <ProblemNote error={error} />
          <div class="acts">
            {planned.state === 'planned' ? (
              <button type="button" class="main" onClick={() => attempt(start(shopId, item, me))}>
                {text.start}
              </button>
            ) : null}
            {planned.state === 'underWay' ? (
              <>
                <button type="button" class="main" onClick={() => say({ kind: 'finished', operation })}>
                  {text.finish}
                </button>
                <button type="button" onClick={() => setAsking('hold')}>
                  {text.hold}
                </button>
                <button type="button" onClick={() => setAsking('handOver')}>
                  {text.handOver}
                </button>
              </>
            ) : null}
            {planned.state === 'paused' ? (
              <button type="button" class="main" onClick={() => say({ kind: 'resumed', operation })}>
                {text.resume}
              </button>
            ) : null}
          </div>
          {asking === 'hold' ? (
            <form
              onSubmit={(event) => {
                event.preventDefault();
                void say({ kind: 'interrupted', operation, reason });
              }}
            >
              <Field
                label={text.reason}
                value={reason}
                onValue={setReason}
                input={{ required: true, maxLength: 300 }}
              />
              <button type="submit">{text.send}</button>
            </form>
          ) : null}
          {asking === 'handOver' ? (
            <form
              onSubmit={(event) => {
                event.preventDefault();
                if (to !== '') void say({ kind: 'handedOver', operation, to: [to] });
              }}
            >
              <Field
                label={text.to}
                value={to}
                onValue={setTo}
                options={[
                  { value: '', label: '–' },
                  ...people.filter((each) => each.id !== me).map((each) => ({ value: each.id, label: each.name })),
                ]}
              />
              <button type="submit">{text.send}</button>
            </form>
          ) : null}
        </>
      ) : null}
    </article>
  );
}

function ToKnow({ item, open }: { item: QueueItem; open: boolean }) {
  return (
    <>
      {item.cautions.length > 0 ? (
        <details open={open}>
          <summary>
            {text.cautions} ({item.cautions.length})
          </summary>
          <ul>
            {item.cautions.map((caution) => (
              <li key={caution.hazard}>
                <strong>{caution.text}</strong> {caution.precautions.join(' ')}
              </li>
            ))}
          </ul>
          <p class="quiet">{item.cautions[0]?.defersTo}</p>
        </details>
      ) : null}
      {item.instructions.length > 0 ? (
        <details>
          <summary>{text.steps}</summary>
          <ol>
            {item.instructions.map((step) => (
              <li key={step.text}>
                {step.text}
                {step.clock ? ` (${step.clock.label}: ${step.clock.fromSeconds}–${step.clock.toSeconds} s)` : ''}
              </li>
            ))}
          </ol>
        </details>
      ) : null}
      {item.products.length + item.conditions.length > 0 ? (
        <p class="quiet">{[...item.products, ...item.conditions].join(' · ')}</p>
      ) : null}
    </>
  );
}
