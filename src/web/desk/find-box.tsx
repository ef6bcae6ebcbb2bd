import { useEffect, useState } from 'preact/hooks';
import type { JobLine, PageOf, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { Plate, plateOf } from '../parts/plate.tsx';
import { dayAndTime } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { jobWords } from '../words/job.ts';
import { words } from '../words.ts';

const TYPING_MS = 200;

/** Finds a car or a customer, and says at once what a caller asks first: is it ready, and when. */
export function FindBox({ shop, onChoose }: { shop: Shop; onChoose: (jobId: string) => void }) {
  const [typed, setTyped] = useState('');
  const [asked, setAsked] = useState('');
  useEffect(() => {
    const timer = setTimeout(() => setAsked(typed.trim()), TYPING_MS);
    return () => clearTimeout(timer);
  }, [typed]);
  const query = asked === '' ? null : `/v1/shops/${shop.id}/jobs?limit=8&search=${encodeURIComponent(asked)}`;
  const [found] = useReading<PageOf<JobLine>>(query);
  const items = asked === '' ? [] : (found.value?.items ?? []);
  return (
    <search class="panel no-print">
      <Field
        label={words.find.label}
        value={typed}
        onValue={setTyped}
        input={{ type: 'search', autoComplete: 'off' }}
      />
      <div role="status">
        {asked !== '' && found.state === 'ready' && items.length === 0 ? <p class="quiet">{words.find.none}</p> : null}
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
