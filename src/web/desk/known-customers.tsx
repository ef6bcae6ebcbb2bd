import { useEffect, useState } from 'preact/hooks';
import type { Job, JobLine, PageOf } from '../../api/replies.ts';
import { Plate, plateOf } from '../parts/plate.tsx';
import { useReading } from '../wire/use-reading.ts';
import { bookingWords } from '../words/booking.ts';

const LEAST_LETTERS = 3;
const TYPING_MS = 250;

/** Cars that were here before under the name, telephone or registration being typed; one of them fills the form. */
export function KnownCustomers({
  shopId,
  typed,
  onPick,
}: {
  shopId: string;
  typed: string;
  onPick: (job: Job) => void;
}) {
  const [asked, setAsked] = useState('');
  useEffect(() => {
    const timer = setTimeout(() => setAsked(typed.trim()), TYPING_MS);
    return () => clearTimeout(timer);
  }, [typed]);
  const long = asked.length >= LEAST_LETTERS;
  const [found] = useReading<PageOf<JobLine>>(
    long ? `/v1/shops/${shopId}/jobs?limit=10&search=${encodeURIComponent(asked)}` : null,
  );
  const jobs = long ? (found.value?.items ?? []).map((each) => each.job) : [];
  const cars = [...new Map(jobs.map((job) => [`${job.customer.name}${job.vehicle.registration}`, job])).values()];
  if (cars.length === 0) return null;
  return (
    <div class="bar">
      <span class="quiet">{bookingWords.knownAs}</span>
      {cars.slice(0, 4).map((job) => (
        <button type="button" key={job.id} onClick={() => onPick(job)}>
          {job.customer.name} <Plate text={plateOf(job, job.vehicle.description)} />
        </button>
      ))}
    </div>
  );
}
