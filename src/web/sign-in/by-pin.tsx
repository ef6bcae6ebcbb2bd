import { useState } from 'preact/hooks';
import type { WaysIn } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { accessWords } from '../words/access.ts';
import { useEnter } from './enter.ts';

const text = accessWords;
type Tablet = NonNullable<WaysIn['tablet']>;

/** On one of the shop's tablets: who, then their PIN. */
export function ByPin({ tablet }: { tablet: Tablet }) {
  const [who, setWho] = useState<Tablet['people'][number] | null>(null);
  const [pin, setPin] = useState('');
  const { error, busy, enter } = useEnter();
  if (who === null)
    return (
      <section aria-labelledby="tablet">
        <h2 id="tablet">{text.tablet(tablet.name)}</h2>
        {tablet.people.length === 0 ? <p>{text.nobodyOnTablet}</p> : null}
        <div class="people">
          {tablet.people.map((each) => (
            <button type="button" key={each.accountId} onClick={() => setWho(each)}>
              {each.name}
            </button>
          ))}
        </div>
      </section>
    );
  return (
    <form
      class="panel"
      aria-label={text.pinOf(who.name)}
      onSubmit={(event) => {
        event.preventDefault();
        setPin('');
        void enter('pin', { accountId: who.accountId, pin });
      }}
    >
      <Field
        label={text.pinOf(who.name)}
        value={pin}
        onValue={setPin}
        input={{
          type: 'password',
          inputMode: 'numeric',
          autocomplete: 'off',
          required: true,
          maxLength: 8,
          autofocus: true,
        }}
      />
      <p class="bar">
        <button type="submit" class="main" disabled={busy}>
          {text.enter}
        </button>
        <button type="button" onClick={() => setWho(null)}>
          {text.otherPerson}
        </button>
      </p>
      <ProblemNote error={error} />
    </form>
  );
}
