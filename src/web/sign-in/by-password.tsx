import { useState } from 'preact/hooks';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { accessWords } from '../words/access.ts';
import { useEnter } from './enter.ts';

const text = accessWords;

/** Name and password, as a password manager fills them. */
export function ByPassword() {
  const [signInName, setName] = useState('');
  const [password, setPassword] = useState('');
  const { error, busy, enter } = useEnter();
  return (
    <form
      class="panel"
      aria-label={text.enter}
      onSubmit={(event) => {
        event.preventDefault();
        void enter('password', { signInName, password });
      }}
    >
      <div class="fields">
        <Field
          label={text.signInName}
          value={signInName}
          onValue={setName}
          input={{ autocomplete: 'username', required: true, maxLength: 120 }}
        />
        <Field
          label={text.password}
          value={password}
          onValue={setPassword}
          input={{ type: 'password', autocomplete: 'current-password', required: true }}
        />
      </div>
      <p>
        <button type="submit" class="main" disabled={busy}>
          {text.enter}
        </button>
      </p>
      <ProblemNote error={error} />
    </form>
  );
}
