import type { Place, Plan, Shop, WithdrawnReply } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { deskWords } from '../words/desk.ts';

const text = deskWords.wishes;

interface UndoWishProps {
  readonly shop: Shop;
  readonly jobId: string;
  readonly operation: string;
  /** The plan that was looked at; null: the one that stands now. */
  readonly planVersion: number | null;
  readonly onDone: (withdrawn: WithdrawnReply) => void;
}

/** Takes back what the desk decided. */
export function UndoWish({ shop, jobId, operation, planVersion, onDone }: UndoWishProps) {
  const { error, busy, attempt } = useAttempt();
  const undo = () =>
    attempt(async () => {
      const at = `/v1/shops/${shop.id}`;
      const version = planVersion ?? (await call<Pick<Plan, 'version'>>(`${at}/plan/version`)).value.version;
      const { value } = await call<WithdrawnReply>(
        `${at}/jobs/${jobId}/operations/${encodeURIComponent(operation)}/wish/withdraw`,
        { method: 'POST', etag: `"${version}"` },
      );
      onDone(value);
    });
  return (
    <div>
      <button type="button" disabled={busy} onClick={undo}>
        {text.undo}
      </button>
      <ProblemNote error={error} />
    </div>
  );
}

/** What became of an undo, and plainly what could not be put back. */
export function WithdrawnNote({
  withdrawn,
  zone,
  places,
}: {
  withdrawn: WithdrawnReply;
  zone: string;
  places: readonly Place[];
}) {
  const nameOf = (id: string | null) => places.find((each) => each.id === id)?.name.split(',')[0] ?? '';
  return (
    <div class="note" role="status">
      <strong>{text.undone(withdrawn.published)}</strong>
      <div>{withdrawn.notRestored.length === 0 ? text.allBack : text.notBack}</div>
      <ul>
        {withdrawn.notRestored.map((each) => (
          <li key={each.jobId + each.operation}>
            {each.car}, {each.label}: {dayAndTime(zone, each.before.start)} {nameOf(each.before.placeId)} →{' '}
            {dayAndTime(zone, each.after.start)} {nameOf(each.after.placeId)}; {text.why[each.why]}
          </li>
        ))}
      </ul>
    </div>
  );
}
