import { useState } from 'preact/hooks';
import type { DeskException, PageOf } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { words } from '../words.ts';

const NAME_KEY = 'panelday.name';

/** What a person has to see and acknowledge: a promise that breaks, a freeze released, a fact against a rule. */
export function ExceptionList({
  shopId,
  zone,
  exceptions,
  onChange,
}: {
  shopId: string;
  zone: string;
  exceptions: PageOf<DeskException> | null;
  onChange: () => void;
}) {
  const [name, setName] = useState(localStorage.getItem(NAME_KEY) ?? '');
  const [error, setError] = useState<Error | null>(null);
  const items = exceptions?.items ?? [];
  const seen = async (id: string) => {
    localStorage.setItem(NAME_KEY, name);
    try {
      await call(`/v1/shops/${shopId}/exceptions/${id}/acknowledge`, { method: 'POST', body: { by: name } });
      setError(null);
      onChange();
    } catch (failure) {
      setError(failure as Error);
    }
  };
  return (
    <section class="panel" aria-labelledby="exceptions">
      <h2 id="exceptions">{words.exceptions.title}</h2>
      {items.length === 0 ? (
        <p class="quiet">{exceptions ? words.exceptions.none : words.loading}</p>
      ) : (
        <Field label={words.exceptions.who} value={name} onValue={setName} input={{ autoComplete: 'name' }} />
      )}
      <ProblemNote error={error} />
      <ul class="plain">
        {items.map((item) => (
          <li key={item.id}>
            <div>{item.text}</div>
            <div class="bar">
              <span class="quiet">{dayAndTime(zone, item.raisedAt)}</span>
              <button type="button" disabled={name.trim() === ''} onClick={() => seen(item.id)}>
                {words.exceptions.acknowledge}
              </button>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
