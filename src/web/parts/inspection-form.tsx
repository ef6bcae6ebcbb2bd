import { useState } from 'preact/hooks';
import type { Inspection, JobView, PanelName, RevisedScope, Shop } from '../../api/replies.ts';
import { dayAndTime, money } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { bookingWords } from '../words/booking.ts';
import { inspectionWords } from '../words/inspection.ts';
import { words } from '../words.ts';
import { CarView, panelNames } from './car-view.tsx';
import { Field } from './field.tsx';
import { ProblemNote } from './problem-note.tsx';

const text = inspectionWords;
const COMMON_GAUGE_ERROR = 2.5;

interface InspectionFormProps {
  readonly shop: Shop;
  readonly view: JobView;
  readonly etag: string;
  readonly onDone: () => void;
}

/** Defect grades and film readings on clean paint, panel by panel; the answer says what changes in scope, price and time. */
export function InspectionForm({ shop, view, etag, onDone }: InspectionFormProps) {
  const { job } = view;
  const [panel, setPanel] = useState<PanelName>('bonnet');
  const [grades, setGrades] = useState<Partial<Record<PanelName, string>>>(() =>
    Object.fromEntries(panelNames.map((each) => [each, String(job.condition.defects)])),
  );
  const [film, setFilm] = useState<Partial<Record<PanelName, string>>>({});
  const [hardness, setHardness] = useState(job.vehicle.paintHardness ?? '');
  const [error, setError] = useState<Error | null>(null);
  const [revised, setRevised] = useState<RevisedScope | null>(null);
  const record = async (event: Event) => {
    event.preventDefault();
    const at = new Date().toISOString();
    const inspection: Inspection = {
      at,
      panels: panelNames.map((each) => ({ panel: each, defects: Number(grades[each] ?? 0) })),
      film: panelNames.flatMap((each) =>
        film[each]
          ? [{ panel: each, micrometres: Number(film[each]), gaugeErrorMicrometres: COMMON_GAUGE_ERROR, at }]
          : [],
      ),
      paintHardness: (hardness === '' ? null : hardness) as Inspection['paintHardness'],
    };
    try {
      const path = `/v1/shops/${shop.id}/jobs/${job.id}/inspection`;
      const { value } = await call<RevisedScope>(path, { method: 'POST', etag, body: inspection });
      setRevised(value);
      setError(null);
      onDone();
    } catch (failure) {
      setError(failure as Error);
    }
  };
  if (revised) return <Revised revised={revised} shop={shop} />;
  return (
    <form onSubmit={record} noValidate>
      <CarView caption={text.pick} role="button" on={new Set([panel])} marks={grades} onPanel={setPanel} />
      <h3>{words.panels[panel]}</h3>
      <div class="fields">
        <Field
          label={bookingWords.defects}
          value={grades[panel] ?? '0'}
          onValue={(value) => setGrades({ ...grades, [panel]: value })}
          options={bookingWords.defectGrades.map((label, value) => ({
            value: String(value),
            label: `${value} ${label}`,
          }))}
        />
        <Field
          label={text.film}
          value={film[panel] ?? ''}
          onValue={(value) => setFilm({ ...film, [panel]: value })}
          input={{ inputMode: 'decimal' }}
        />
        <Field
          label={bookingWords.hardness}
          value={hardness}
          onValue={(value) => setHardness(value as typeof hardness)}
          options={bookingWords.hardnesses}
        />
      </div>
      <p class="quiet">{text.gauge(COMMON_GAUGE_ERROR)}</p>
      <button type="submit" class="main">
        {text.record}
      </button>
      <ProblemNote error={error} zone={shop.timeZone} />
    </form>
  );
}

function Revised({ revised, shop }: { revised: RevisedScope; shop: Shop }) {
  const zone = shop.timeZone;
  return (
    <div class={`note ${revised.promiseKept ? '' : 'alarm'}`} role="status">
      <strong>{text.passes(revised.correctionPasses)}</strong>
      <div>{text.price(money(shop.currency, revised.priceBeforeMinor), money(shop.currency, revised.priceMinor))}</div>
      {revised.readyAt ? (
        <div>{text.ready(dayAndTime(zone, revised.readyAt), revised.promiseKept)}</div>
      ) : (
        <div>{text.noRoom}</div>
      )}
      {revised.job.scope?.answer === 'awaited' ? <div>{text.askBy(dayAndTime(zone, revised.answerBy))}</div> : null}
      <ul>
        {[
          ...revised.refusedPanels.map((each) => each.text),
          ...revised.leadDecides.map((each) => text.lead(words.panels[each as PanelName] ?? each)),
        ].map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
    </div>
  );
}
