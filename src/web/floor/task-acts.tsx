import { useState } from 'preact/hooks';
import type { FloorFact, QueueItem, Technician } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { useAttempt } from '../wire/use-attempt.ts';
import { floorWords } from '../words/floor.ts';
import { words } from '../words.ts';
import { start, tell } from './act.ts';
import { tickedPanels } from './panel-ticks.tsx';
import { PhotoAct } from './photo-act.tsx';

const text = floorWords;
const COMMON_REWORK_MINUTES = '60';

/** Facts after which the operation is finished or somebody else's. */
const leaving: ReadonlySet<FloorFact['kind']> = new Set(['moved', 'finished', 'handedOver', 'failedFinalInspection']);

type Asking = 'hold' | 'handOver' | 'note' | 'failed';

interface TaskActsProps {
  readonly shopId: string;
  readonly me: string;
  readonly item: QueueItem;
  readonly people: readonly Technician[];
  /** Something was tried. */
  readonly onDone: () => void;
  /** The operation is no longer this person's to work on. */
  readonly onLeft: () => void;
}

/** The few things that can be done to an operation in the state it is in. */
export function TaskActs({ shopId, me, item, people, onDone, onLeft }: TaskActsProps) {
  const { error, busy, attempt } = useAttempt();
  const [asking, setAsking] = useState<Asking | null>(null);
  const { planned, operation, jobId } = item;
  const act = async (work: () => Promise<void>) => {
    await attempt(async () => {
      await work();
      setAsking(null);
    });
    onDone();
  };
  const say = (...facts: readonly FloorFact[]) =>
    act(async () => {
      for (const fact of facts) await tell(shopId, jobId, fact);
      if (facts.some(({ kind }) => leaving.has(kind))) onLeft();
    });
  /** Ticks stay on the device; whoever takes over reads them as a note. */
  const told = (): FloorFact[] => {
    const names = tickedPanels(jobId, operation).map((each) => words.panels[each]);
    return names.length > 0 ? [{ kind: 'noted', operation, text: text.panelsDone(names.join(', ')) }] : [];
  };
  const { placeId } = item;
  const main = (label: string, act: () => void) => (
    <button type="button" class="main" disabled={busy} onClick={act}>
      {label}
    </button>
  );
  const more = (which: Asking, label: string) => (
    <button type="button" aria-expanded={asking === which} onClick={() => setAsking(which)}>
      {label}
    </button>
  );
  if (planned.state === 'finished') return null;
  return (
    <>
      <ProblemNote error={error} />
      <div class="acts">
        {planned.kind === 'move' && placeId
          ? main(text.standsNow(item.placeName), () => say({ kind: 'moved', placeId }))
          : null}
        {planned.kind !== 'move' && planned.state === 'planned'
          ? main(text.start, () => act(() => start(shopId, item, me)))
          : null}
        {planned.kind !== 'move' && planned.state === 'underWay' ? (
          <>
            {main(text.finish, () => say({ kind: 'finished', operation }))}
            {planned.kind === 'finalInspection' ? more('failed', text.failed) : null}
            {planned.kind === 'handover' ? (
              <button
                type="button"
                disabled={busy}
                onClick={() => say({ kind: 'finished', operation }, { kind: 'pickedUp' })}
              >
                {words.pickedUp}
              </button>
            ) : null}
            {more('hold', text.hold)}
          </>
        ) : null}
        {planned.state === 'paused' ? main(text.resume, () => say({ kind: 'resumed', operation })) : null}
        {planned.state === 'planned' ? null : more('handOver', text.handOver)}
        {more('note', text.note)}
        <PhotoAct shopId={shopId} item={item} />
      </div>
      {asking === 'hold' ? (
        <Ask label={text.reason} offers={text.reasons} onBack={() => setAsking(null)}>
          {(reason) => say({ kind: 'interrupted', operation, reason }, ...told())}
        </Ask>
      ) : null}
      {asking === 'note' ? (
        <Ask label={text.noteText} offers={[]} onBack={() => setAsking(null)}>
          {(note) => say({ kind: 'noted', operation, text: note })}
        </Ask>
      ) : null}
      {asking === 'failed' ? (
        <FailedInspection onBack={() => setAsking(null)}>
          {(note, reworkMinutes) => say({ kind: 'failedFinalInspection', note, reworkMinutes })}
        </FailedInspection>
      ) : null}
      {asking === 'handOver' ? (
        <div>
          <h3>{text.to}</h3>
          <div class="acts">
            {people
              .filter((each) => each.id !== me)
              .map((each) => (
                <button
                  type="button"
                  key={each.id}
                  onClick={() => say(...told(), { kind: 'handedOver', operation, to: [each.id] })}
                >
                  {each.name}
                </button>
              ))}
            <button type="button" onClick={() => setAsking(null)}>
              {text.back}
            </button>
          </div>
        </div>
      ) : null}
    </>
  );
}

function Ask({
  label,
  offers,
  onBack,
  children,
}: {
  label: string;
  offers: readonly string[];
  onBack: () => void;
  children: (answer: string) => void;
}) {
  const [typed, setTyped] = useState('');
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        children(typed);
      }}
    >
      {offers.length > 0 ? (
        <>
          <h3>{label}</h3>
          <div class="acts">
            {offers.map((each) => (
              <button type="button" key={each} onClick={() => children(each)}>
                {each}
              </button>
            ))}
          </div>
        </>
      ) : null}
      <Field
        label={offers.length > 0 ? text.otherReason : label}
        value={typed}
        onValue={setTyped}
        input={{ required: true, maxLength: 300 }}
      />
      <div class="acts">
        <button type="submit">{text.send}</button>
        <button type="button" onClick={onBack}>
          {text.back}
        </button>
      </div>
    </form>
  );
}

function FailedInspection({
  onBack,
  children,
}: {
  onBack: () => void;
  children: (note: string, reworkMinutes: number) => void;
}) {
  const [note, setNote] = useState('');
  const [minutes, setMinutes] = useState(COMMON_REWORK_MINUTES);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        children(note, Number(minutes));
      }}
    >
      <Field label={text.failedWhat} value={note} onValue={setNote} input={{ required: true, maxLength: 500 }} />
      <Field
        label={text.reworkMinutes}
        value={minutes}
        onValue={setMinutes}
        input={{ type: 'number', min: 5, max: 600, required: true }}
      />
      <div class="acts">
        <button type="submit">{text.send}</button>
        <button type="button" onClick={onBack}>
          {text.back}
        </button>
      </div>
    </form>
  );
}
