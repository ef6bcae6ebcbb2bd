import { useState } from 'preact/hooks';
import type { JobView, Shop } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime, money } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { jobWords } from '../words/job.ts';

const text = jobWords.scope;

/** What the inspection found the car to need, and the customer's yes or no. */
export function ScopeAnswer({
  shop,
  view,
  etag,
  onDone,
}: {
  shop: Shop;
  view: JobView;
  etag: string;
  onDone: () => void;
}) {
  const [error, setError] = useState<Error | null>(null);
  const { scope, id } = view.job;
  if (scope === null) return null;
  const answer = async (given: 'approved' | 'declined') => {
    try {
      await call(`/v1/shops/${shop.id}/jobs/${id}/scope-answer`, { method: 'POST', etag, body: { answer: given } });
      setError(null);
    } catch (failure) {
      setError(failure as Error);
    }
    onDone();
  };
  return (
    <section aria-label={text.title}>
      <h3>{text.title}</h3>
      <p>
        {text.now(scope.correctionPasses, money(shop.currency, scope.priceMinor))}{' '}
        <span class={`mark ${scope.answer === 'awaited' ? 'soon' : ''}`}>{text.answers[scope.answer]}</span>
      </p>
      {scope.answer === 'awaited' ? (
        <>
          <p class="quiet">{text.until(dayAndTime(shop.timeZone, scope.answerBy))}</p>
          <div class="bar">
            <button type="button" class="main" onClick={() => answer('approved')}>
              {text.yes}
            </button>
            <button type="button" onClick={() => answer('declined')}>
              {text.no}
            </button>
          </div>
        </>
      ) : null}
      <ProblemNote error={error} />
    </section>
  );
}
