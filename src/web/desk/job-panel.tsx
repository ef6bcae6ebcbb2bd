import { useEffect, useState } from 'preact/hooks';
import type { JobView, Shop } from '../../api/replies.ts';
import { doingOf } from '../parts/doing.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { words } from '../words.ts';

const text = words.job;

/** One job: what was promised, what the plan says, and what the desk can do about it now. */
export function JobPanel({
  shop,
  jobId,
  asOf,
  onChange,
}: {
  shop: Shop;
  jobId: string | null;
  asOf: number;
  onChange: () => void;
}) {
  const [found, setFound] = useState<{ view: JobView; etag: string | null } | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const path = `/v1/shops/${shop.id}/jobs/${jobId}`;
  useEffect(() => {
    if (jobId === null) return;
    let left = false;
    call<JobView>(path).then(
      ({ value, etag }) => {
        if (left) return;
        setFound({ view: value, etag });
        setError(null);
      },
      (failure: Error) => left || setError(failure),
    );
    return () => {
      left = true;
    };
  }, [path, jobId, asOf]);

  if (jobId === null) return <p class="quiet panel">{text.choose}</p>;
  if (found === null || found.view.job.id !== jobId)
    return <section class="panel">{error ? <ProblemNote error={error} /> : words.loading}</section>;
  const { job, planned, operations } = found.view;
  const act = async (what: 'confirm' | 'cancel') => {
    try {
      await call(`${path}/${what}`, {
        method: 'POST',
        ...(found.etag === null ? {} : { etag: found.etag }),
        ...(what === 'cancel' ? { body: { note: '' } } : {}),
      });
      setError(null);
      onChange();
    } catch (failure) {
      setError(failure as Error);
    }
  };
  return (
    <section class="panel" aria-labelledby="job">
      <h2 id="job">
        {job.vehicle.description} {job.vehicle.registration}
      </h2>
      <p>
        <span class="mark">{text.states[job.state]}</span> {job.customer.name} {job.customer.phone}
      </p>
      <dl class="facts">
        <dt>{words.booking.dropOff}</dt>
        <dd>{job.dropOffAt ? dayAndTime(shop.timeZone, job.dropOffAt) : '–'}</dd>
        <dt>{words.promises.pickup}</dt>
        <dd>{job.promise ? dayAndTime(shop.timeZone, job.promise.pickupAt) : '–'}</dd>
        <dt>{words.booking.ready}</dt>
        <dd>{planned ? dayAndTime(shop.timeZone, planned.readyAt) : '–'}</dd>
      </dl>
      <div class="bar no-print">
        {job.state === 'held' ? (
          <button type="button" class="main" onClick={() => act('confirm')}>
            {text.confirm}
          </button>
        ) : null}
        {job.state === 'held' || job.state === 'booked' ? (
          <button type="button" onClick={() => act('cancel')}>
            {text.cancel}
          </button>
        ) : null}
      </div>
      <ProblemNote error={error} />
      <h3>{text.operations}</h3>
      <ol>
        {operations.map((operation) => (
          <li key={operation.operation}>
            {operation.label} <span class="quiet">{dayAndTime(shop.timeZone, operation.start)}</span>{' '}
            <span class="mark">
              {operation.state === 'planned' ? words.doing[doingOf(operation)] : words.doing[operation.state]}
            </span>
            {operation.remedy ? <span class="mark soon">{text.remedy}</span> : null}
          </li>
        ))}
      </ol>
    </section>
  );
}
