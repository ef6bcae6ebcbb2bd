import { dayAndTime } from '../time/format.ts';
import { Refusal, Unreachable } from '../wire/api.ts';
import { words } from '../words.ts';

interface ProblemNoteProps {
  readonly error: Error | null;
  readonly onRetry?: () => void;
  /** Zone to write the nearest slot in. */
  readonly zone?: string;
}

/** Says what went wrong in the server's own words, and what to do next. */
export function ProblemNote({ error, onRetry, zone = 'UTC' }: ProblemNoteProps) {
  if (error === null) return null;
  const problem = error instanceof Refusal ? error.problem : null;
  const kind = problem?.type.split('/').at(-1) ?? '';
  const said = (text: string) => text.replace(/\.$/, '') === problem?.title;
  const reasons = [...new Set(problem?.errors?.map((each) => each.message) ?? [])].filter((each) => !said(each));
  const detail = problem?.detail && !said(problem.detail) && reasons.join(' ') !== problem.detail ? problem.detail : '';
  return (
    <div class="note alarm" role="alert">
      <strong>{error instanceof Unreachable ? words.offline : (problem?.title ?? error.message)}</strong>
      {detail ? <div>{detail}</div> : null}
      {reasons.length > 0 ? (
        <ul>
          {reasons.map((each) => (
            <li key={each}>{each}</li>
          ))}
        </ul>
      ) : null}
      {problem?.nearest ? (
        <div>
          {words.nearest(dayAndTime(zone, problem.nearest.dropOffAt), dayAndTime(zone, problem.nearest.pickupAt))}
        </div>
      ) : null}
      {words.whatNext[kind] ? <div>{words.whatNext[kind]}</div> : null}
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
