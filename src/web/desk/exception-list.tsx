import { useState } from 'preact/hooks';
import type { DeskException, PageOf } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { words } from '../words.ts';
import { deskName, keepDeskName } from './desk-name.ts';

interface ExceptionListProps {
  readonly shopId: string;
  readonly zone: string;
  readonly exceptions: PageOf<DeskException> | null;
  readonly onChange: () => void;
  readonly onChoose: (jobId: string) => void;
}

/** What a person has to see and sign for. */
export function ExceptionList({ shopId, zone, exceptions, onChange, onChoose }: ExceptionListProps) {
  const [by, setBy] = useState(deskName);
  const [error, setError] = useState<Error | null>(null);
  const items = exceptions?.items ?? [];
  const acknowledge = async (id: string) => {
    try {
      keepDeskName(by);
      await call(`/v1/shops/${shopId}/exceptions/${id}/acknowledge`, { method: 'POST', body: { by } });
      setError(null);
      onChange();
    } catch (failure) {
      setError(failure as Error);
    }
  };
  if (items.length === 0) return null;
  const signed = deskName() !== '';
  return (
    <section class="panel no-print" aria-labelledby="exceptions">
      <h2 id="exceptions">
        {words.exceptions.title} ({items.length})
      </h2>
      {signed ? null : (
        <Field label={words.exceptions.who} value={by} onValue={setBy} input={{ autoComplete: 'name' }} />
      )}
      <ProblemNote error={error} />
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a list that scrolls must be reachable by keyboard */}
      <ul class="plain short" aria-label={words.exceptions.title} tabIndex={0}>
        {items.map((item) => {
          const { jobId } = item;
          return (
            <li key={item.id} class="to-sign">
              <div>
                {jobId ? (
                  <button type="button" class="plain" onClick={() => onChoose(jobId)}>
                    {item.text}
                  </button>
                ) : (
                  item.text
                )}
                <div class="quiet">{dayAndTime(zone, item.raisedAt)}</div>
              </div>
              <button type="button" disabled={by.trim() === ''} onClick={() => acknowledge(item.id)}>
                {words.exceptions.acknowledge}
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
