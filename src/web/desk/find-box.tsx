import { useEffect, useState } from 'preact/hooks';
import type { JobLine, PageOf, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { Plate, plateOf } from '../parts/plate.tsx';
import { dayAndTime } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { jobWords } from '../words/job.ts';
import { words } from '../words.ts';

const TYPING_MS = 200;
const MOST_SHOWN = 8;

/** Finds a car or a customer, and says at once what a caller asks first: is it ready, and when. */
export function FindBox({ shop, onChoose }: { shop: Shop; onChoose: (jobId: string) => void }) {
  const [typed, setTyped] = useState('');
  const [asked, setAsked] = useState('');
  useEffect(() => {
    const timer = setTimeout(() => setAsked(typed.trim()), TYPING_MS);
    return () => clearTimeout(timer);
  }, [typed]);
  const query = (states: string) =>
    `/v1/shops/${shop.id}/jobs?state=${states}&limit=${MOST_SHOWN}&search=${encodeURIComponent(asked)}`;
  // Callers ask for cars that are here or to come; a regular's many past visits come after them.
  const [open] = useReading<PageOf<JobLine>>(asked === '' ? null : query('held,booked,inShop'));
  const openItems = asked === '' ? [] : (open.value?.items ?? []);
  const hasRoom = asked !== '' && open.state === 'ready' && openItems.length < MOST_SHOWN;
  const [found] = useReading<PageOf<JobLine>>(hasRoom ? query('done,cancelled,noShow,lapsed') : null);
  const items = [...openItems, ...(hasRoom ? (found.value?.items ?? []) : [])].slice(0, MOST_SHOWN);
  return (
    <search class="panel no-print">
      <Field
        label={words.find.label}
        value={typed}
        onValue={setTyped}
        input={{ type: 'search', autoComplete: 'off' }}
      />
      <div role="status">
        {hasRoom && found.state === 'ready' && items.length === 0 ? <p class="quiet">{words.find.none}</p> : null}
      </div>
      <ul class="pickups">
        {items.map((line) => (
          <li key={line.job.id}>
            <button type="button" onClick={() => onChoose(line.job.id)}>
              <span>
                <Plate text={plateOf(line.job, line.job.vehicle.description)} />{' '}
                <strong>{line.job.customer.name}</strong>
              </span>
              <span class="mark">{jobWords.states[line.job.state]}</span>
              <span class="quiet">{answerFor(line, shop.timeZone)}</span>
            </button>
          </li>
        ))}
      </ul>
    </search>
  );
}

/** Is it ready? In a sentence for the phone. */
export function answerFor({ job, planned }: JobLine, zone: string): string {
  const text = words.find;
  const pickup = job.promise ? dayAndTime(zone, job.promise.pickupAt) : null;
  if (job.state === 'inShop' && planned) {
    if (Date.parse(planned.readyAt) <= Date.now()) return text.readyNow;
    return text.readyAt(dayAndTime(zone, planned.readyAt), pickup);
  }
  if (job.state === 'booked' && job.dropOffAt) return text.expected(dayAndTime(zone, job.dropOffAt), pickup);
  if (job.state === 'held' && job.holdUntil) return text.held(dayAndTime(zone, job.holdUntil));
  return '';
}
