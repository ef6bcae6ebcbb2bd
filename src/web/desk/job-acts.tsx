import { useState } from 'preact/hooks';
import type { FloorFact, JobView, Place, Shop } from '../../api/replies.ts';
import { stateOf } from '../parts/doing.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { instantAt, localClockOf, localDateOf } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { jobWords } from '../words/job.ts';
import { words } from '../words.ts';

/** What may be left undone of a car that is ready: it is moved to where it is fetched, and handed over. */
const lastActs: ReadonlySet<string> = new Set(['move', 'handover']);

interface JobActsProps {
  readonly shop: Shop;
  readonly view: JobView;
  readonly etag: string;
  readonly places: readonly Place[];
  readonly onChange: () => void;
}

/** What the desk can do to a job in the state it is in. */
export function JobActs({ shop, view, etag, places, onChange }: JobActsProps) {
  const { job, stays } = view;
  const text = jobWords;
  const at = `/v1/shops/${shop.id}/jobs/${job.id}`;
  const { error, attempt } = useAttempt();
  const [asking, setAsking] = useState<'arrive' | 'close' | 'move' | 'takeAway' | null>(null);
  const [place, setPlace] = useState(stays[0]?.placeId ?? places[0]?.id ?? '');
  const [note, setNote] = useState('');
  const [day, setDay] = useState(localDateOf(shop.timeZone, job.dropOffAt ?? Date.now()));
  const [clock, setClock] = useState(localClockOf(shop.timeZone, job.dropOffAt ?? Date.now()));
  const act = async (work: () => Promise<unknown>) => {
    await attempt(async () => {
      await work();
      setAsking(null);
    });
    onChange();
  };
  const post = (path: string, body?: unknown) =>
    act(() => call(`${at}/${path}`, { method: 'POST', etag, ...(body === undefined ? {} : { body }) }));
  const tell = (fact: FloorFact) => {
    const clientId = crypto.randomUUID();
    return act(() =>
      call(`${at}/floor-events`, {
        method: 'POST',
        key: clientId,
        body: { clientId, occurredAt: new Date().toISOString(), fact },
      }),
    );
  };
  const submit = (work: () => Promise<void>) => (event: Event) => {
    event.preventDefault();
    void work();
  };
  const open = job.state === 'held' || job.state === 'booked';
  const expected = job.state === 'booked' && job.dropOffAt !== null && Date.parse(job.dropOffAt) <= Date.now();
  if (!open && job.state !== 'inShop') return null;
  const undone = view.operations.filter(
    (each) => stateOf(each, Date.now()) !== 'finished' && !lastActs.has(each.kind),
  ).length;
  const ready = undone === 0;
  return (
    <div class="no-print">
      <div class="bar">
        {job.state === 'held' ? (
          <button type="button" class="main" onClick={() => post('confirm')}>
            {text.confirm}
          </button>
        ) : null}
        {job.state === 'booked' ? (
          <button type="button" class="main" aria-expanded={asking === 'arrive'} onClick={() => setAsking('arrive')}>
            {text.arrived}
          </button>
        ) : null}
        {open ? (
          <>
            <button type="button" aria-expanded={asking === 'move'} onClick={() => setAsking('move')}>
              {text.move}
            </button>
            <button type="button" aria-expanded={asking === 'close'} onClick={() => setAsking('close')}>
              {text.cancel}
            </button>
          </>
        ) : (
          <button
            type="button"
            class={ready ? 'main' : ''}
            aria-expanded={ready ? undefined : asking === 'takeAway'}
            onClick={() => (ready ? tell({ kind: 'pickedUp' }) : setAsking('takeAway'))}
          >
            {ready ? words.pickedUp : text.takenAway}
          </button>
        )}
      </div>
      {asking === 'takeAway' ? (
        <div class="note watch">
          <p>{text.takenAwayMeaning(undone)}</p>
          <div class="bar">
            <button type="button" onClick={() => tell({ kind: 'pickedUp' })}>
              {words.pickedUp}
            </button>
            <button type="button" onClick={() => setAsking(null)}>
              {text.staysHere}
            </button>
          </div>
        </div>
      ) : null}
      {asking === 'arrive' ? (
        <form onSubmit={submit(() => tell({ kind: 'arrived', placeId: place }))}>
          <Field
            label={text.where}
            value={place}
            onValue={setPlace}
            options={places.map((each) => ({ value: each.id, label: each.name }))}
          />
          <button type="submit" class="main">
            {text.arrivedThere}
          </button>
        </form>
      ) : null}
      {asking === 'move' ? (
        <form
          onSubmit={submit(() =>
            act(() => call(at, { method: 'PATCH', etag, body: { dropOffAt: instantAt(shop.timeZone, day, clock) } })),
          )}
        >
          <p class="quiet">{text.moveMeaning}</p>
          <div class="fields">
            <Field label={text.newDay} value={day} onValue={setDay} input={{ type: 'date', required: true }} />
            <Field label={text.newHour} value={clock} onValue={setClock} input={{ type: 'time', required: true }} />
          </div>
          <button type="submit" class="main">
            {text.moveAsk}
          </button>
        </form>
      ) : null}
      {asking === 'close' ? (
        <form onSubmit={submit(() => post('cancel', { note }))}>
          <Field label={text.note} value={note} onValue={setNote} input={{ maxLength: 300 }} />
          <div class="bar">
            <button type="submit" class="main">
              {text.cancelNow}
            </button>
            {expected ? (
              <button type="button" onClick={() => post('no-show', { note })}>
                {text.noShow}
              </button>
            ) : null}
            <button type="button" onClick={() => setAsking(null)}>
              {text.keep}
            </button>
          </div>
        </form>
      ) : null}
      <ProblemNote error={error} zone={shop.timeZone} />
    </div>
  );
}
