import { useState } from 'preact/hooks';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { accessWords } from '../words/access.ts';
import { useEnter } from './enter.ts';

const text = accessWords;

/** Makes the first administrator, with the secret from the server's output; its link brings it behind the `#`. */
export function ByFirst() {
  const [given, setGiven] = useState({
    secret: location.hash.slice(1),
    name: '',
    signInName: '',
    password: '',
  });
  const { error, busy, enter } = useEnter();
  const set = (part: Partial<typeof given>) => setGiven((before) => ({ ...before, ...part }));
  return (
    <form
      class="panel"
      aria-labelledby="first"
      onSubmit={(event) => {
        event.preventDefault();
        void enter('first', given);
      }}
    >
      <h2 id="first">{text.first}</h2>
      <p class="quiet">{text.firstMeaning}</p>
      <div class="fields">
        <Field
          label={text.secret}
          value={given.secret}
          onValue={(secret) => set({ secret })}
          input={{ autocomplete: 'off', required: true }}
        />
        <Field
          label={text.name}
          value={given.name}
          onValue={(name) => set({ name })}
          input={{ autocomplete: 'name', required: true }}
        />
        <Field
          label={text.signInName}
          value={given.signInName}
          onValue={(signInName) => set({ signInName })}
          input={{ autocomplete: 'username', required: true, minLength: 3 }}
        />
        <Field
          label={text.newPassword}
          value={given.password}
          onValue={(password) => set({ password })}
          input={{ type: 'password', autocomplete: 'new-password', required: true, minLength: 12 }}
        />
      </div>
      <p>
        <button type="submit" class="main" disabled={busy}>
          {text.claim}
        </button>
      </p>
      <ProblemNote error={error} />
    </form>
  );
}
