import type { Job } from '../../api/replies.ts';

/** What a car is known by at a glance: its registration, else what it looks like. */
export function plateOf(job: Pick<Job, 'vehicle'> | undefined, car: string): string {
  return job?.vehicle.registration || car;
}

export function Plate({ text, risk = false }: { text: string; risk?: boolean }) {
  return <span class={`plate ${risk ? 'risk' : ''}`}>{text}</span>;
}
