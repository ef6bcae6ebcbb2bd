import { useState } from 'preact/hooks';
import type { PageOf, Tablet } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { call } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { useReading } from '../wire/use-reading.ts';
import { accessWords } from '../words/access.ts';
import { WithdrawableList } from './withdrawable-list.tsx';

const text = accessWords;

/** The shop's shared tablets; this device becomes one. */
export function TabletList({ shopId }: { shopId: string }) {
  const at = `/v1/shops/${shopId}/tablets`;
  const [tablets, again] = useReading<PageOf<Tablet>>(at);
  const [name, setName] = useState('');
  const { error, busy, attempt } = useAttempt();
  return (
    <section class="panel" aria-labelledby="tablets">
      <h2 id="tablets">{text.tablets}</h2>
      <p class="quiet">{text.tabletMeaning}</p>
      {tablets.state === 'ready' && tablets.value.items.length === 0 ? <p>{text.noTablets}</p> : null}
      <WithdrawableList
        items={tablets.value?.items ?? []}
        busy={busy}
        onWithdraw={({ id }) =>
          attempt(async () => {
            await call(`${at}/${id}`, { method: 'DELETE' });
            again();
          })
        }
      />
      <form
        aria-label={text.makeTablet}
        onSubmit={(event) => {
          event.preventDefault();
          void attempt(async () => {
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
