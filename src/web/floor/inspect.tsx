import { useState } from 'preact/hooks';
import type { JobView, Shop } from '../../api/replies.ts';
import { InspectionForm } from '../parts/inspection-form.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { call } from '../wire/api.ts';
import { inspectionWords } from '../words/inspection.ts';

/** The inspection on clean paint, where the car stands. */
export function Inspect({ shop, jobId, onDone }: { shop: Shop; jobId: string; onDone: () => void }) {
  const [found, setFound] = useState<{ view: JobView; etag: string } | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const open = async () => {
    try {
      const { value, etag } = await call<JobView>(`/v1/shops/${shop.id}/jobs/${jobId}`);
      setFound({ view: value, etag: etag ?? '' });
      setError(null);
    } catch (failure) {
      setError(failure as Error);
    }
  };
  return (
    <details onToggle={(event) => event.currentTarget.open && found === null && open()}>
      <summary>{inspectionWords.title}</summary>
      <ProblemNote error={error} onRetry={open} />
      {found ? <InspectionForm shop={shop} view={found.view} etag={found.etag} onDone={onDone} /> : null}
    </details>
  );
}
