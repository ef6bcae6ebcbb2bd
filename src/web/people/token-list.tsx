import { useState } from 'preact/hooks';
import type { ApiToken, Me, NewApiToken, PageOf } from '../../api/replies.ts';
import { Field, Tick } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { call } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { useReading } from '../wire/use-reading.ts';
import { accessWords } from '../words/access.ts';
import { WithdrawableList } from './withdrawable-list.tsx';

const text = accessWords;
type Permission = Me['shops'][number]['permissions'][number];

interface TokenListProps {
  readonly shopId: string;
  /** What whoever makes a token may give. */
  readonly permissions: readonly Permission[];
}

/** Programs that may ask in the shop's name. A token is shown once. */
export function TokenList({ shopId, permissions }: TokenListProps) {
  const at = `/v1/shops/${shopId}/api-tokens`;
  const [tokens, again] = useReading<PageOf<ApiToken>>(at);
  const [name, setName] = useState('');
  const [scopes, setScopes] = useState<readonly Permission[]>(['see']);
  const [told, setTold] = useState<string | null>(null);
  const { error, busy, attempt } = useAttempt();
  return (
    <section class="panel" aria-labelledby="tokens">
      <h2 id="tokens">{text.tokens}</h2>
      {tokens.state === 'ready' && tokens.value.items.length === 0 ? <p>{text.noTokens}</p> : null}
      <WithdrawableList
        items={tokens.value?.items ?? []}
        busy={busy}
        about={(each) => each.scopes.join(', ')}
        onWithdraw={({ id }) =>
          attempt(async () => {
            await call(`${at}/${id}`, { method: 'DELETE' });
            again();
          })
        }
      />
      <form
        aria-label={text.makeToken}
        onSubmit={(event) => {
          event.preventDefault();
          void attempt(async () => {
            const { value } = await call<NewApiToken>(at, { method: 'POST', body: { name, scopes } });
            setTold(value.secret);
            setName('');
            again();
          });
        }}
      >
        <div class="fields">
          <Field label={text.tokenName} value={name} onValue={setName} input={{ required: true, maxLength: 120 }} />
        </div>
        <fieldset>
          <legend>{text.scopes}</legend>
          <div class="ticks">
            {permissions.map((each) => (
              <Tick
                key={each}
                label={text.permissions[each]}
                on={scopes.includes(each)}
                onTick={(on) => setScopes(on ? [...scopes, each] : scopes.filter((one) => one !== each))}
              />
            ))}
          </div>
        </fieldset>
        <p>
          <button type="submit" disabled={busy || scopes.length === 0}>
            {text.makeToken}
          </button>
        </p>
        {told ? (
          <p role="status">
            {text.tokenTold} <code>{told}</code>
          </p>
        ) : null}
        <ProblemNote error={error} />
      </form>
    </section>
  );
}
