import { useState } from 'preact/hooks';
import type { PageOf, Tablet } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { call } from '../wire/api.ts';
import { useReading } from '../wire/use-reading.ts';
import { words } from '../words.ts';
import { useDeed } from './use-deed.ts';

const text = words.access;

/** The shop's shared tablets; this device becomes one. */
export function TabletList({ shopId }: { shopId: string }) {
  const at = `/v1/shops/${shopId}/tablets`;
  const [tablets, again] = useReading<PageOf<Tablet>>(at);
  const [name, setName] = useState('');
  const { error, busy, deed } = useDeed();
  return (
    <section class="panel" aria-labelledby="tablets">
      <h2 id="tablets">{text.tablets}</h2>
      <p class="quiet">{text.tabletMeaning}</p>
      {tablets.state === 'ready' && tablets.value.items.length === 0 ? <p>{text.noTablets}</p> : null}
      <ul class="plain">
        {(tablets.value?.items ?? []).map((each) => (
          <li key={each.id} class="bar">
            <span>{each.name}</span>
            <button
              type="button"
              disabled={busy}
              onClick={() =>
                deed(async () => {
                  await call(`${at}/${each.id}`, { method: 'DELETE' });
                  again();
                })
              }
            >
              {text.withdraw}
              <span class="visually-hidden"> {each.name}</span>
            </button>
          </li>
        ))}
      </ul>
      <form
        aria-label={text.makeTablet}
        onSubmit={(event) => {
          event.preventDefault();
          void deed(async () => {
            await call(at, { method: 'POST', body: { name } });
            setName('');
            again();
          });
        }}
      >
        <div class="fields">
          <Field label={text.tabletName} value={name} onValue={setName} input={{ required: true, maxLength: 120 }} />
        </div>
        <p>
          <button type="submit" disabled={busy}>
            {text.makeTablet}
          </button>
        </p>
        <ProblemNote error={error} />
      </form>
    </section>
  );
}
