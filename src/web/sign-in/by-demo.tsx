import type { WaysIn } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { accessWords } from '../words/access.ts';
import { useEnter } from './enter.ts';

const text = accessWords;

/** One click into the invented shop. */
export function ByDemo({ roles }: { roles: WaysIn['demoRoles'] }) {
  const { error, busy, enter } = useEnter();
  return (
    <section aria-labelledby="demo">
      <h2 id="demo">{text.demo}</h2>
      <p class="quiet">{text.demoMeaning}</p>
      <div class="people">
        {roles.map((role) => (
          <button type="button" key={role} disabled={busy} onClick={() => enter('demo', { role })}>
            {text.demoAs[role]}
            <small>{text.roleMeanings[role]}</small>
          </button>
        ))}
      </div>
      <ProblemNote error={error} />
    </section>
  );
}
