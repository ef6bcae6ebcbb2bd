import { Refusal, Unreachable } from '../wire/api.ts';
import { words } from '../words.ts';

/** Says what went wrong in the server's own words, and what to do next. */
export function ProblemNote({ error, onRetry }: { error: Error | null; onRetry?: () => void }) {
  if (error === null) return null;
  const problem = error instanceof Refusal ? error.problem : null;
  return (
    <div class="note alarm" role="alert">
      <strong>{error instanceof Unreachable ? words.offline : (problem?.title ?? error.message)}</strong>
      {problem?.detail && problem.detail !== problem.title ? <div>{problem.detail}</div> : null}
      {problem?.errors?.length ? (
        <ul>
          {problem.errors.map((each) => (
            <li key={each.field + each.message}>{each.message}</li>
          ))}
        </ul>
      ) : null}
      {onRetry ? (
        <p>
          <button type="button" onClick={onRetry}>
            {words.retry}
          </button>
        </p>
      ) : null}
    </div>
  );
}
