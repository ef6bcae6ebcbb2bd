import { floorWords } from '../words/floor.ts';
import { forgetRefused, type RefusedAction } from './outbox.ts';

const text = floorWords;

/** Says what waits on the device, and what of it the server would not take. */
export function OutboxNote({ kept, refused }: { kept: number; refused: readonly RefusedAction[] }) {
  return (
    <div class="queue-note" role="status">
      {kept > 0 ? <p class="note watch">{text.queued(kept)}</p> : null}
      {refused.length > 0 ? (
        <div class="note alarm">
          <strong>{text.refused}</strong>
          <ul>
            {refused.map(({ action, problem }) => (
              <li key={action.id}>{problem.detail ?? problem.title}</li>
            ))}
          </ul>
          <button type="button" onClick={forgetRefused}>
            {text.forget}
          </button>
        </div>
      ) : null}
    </div>
  );
}
