import { useState } from 'preact/hooks';
import type { AirZone, PageOf, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { useAttempt } from '../wire/use-attempt.ts';
import { floorWords } from '../words/floor.ts';
import { send } from './outbox.ts';
import { useKeptReading } from './use-kept-reading.ts';

const text = floorWords;

/** A number typed with a point or a comma. */
const figure = (typed: string) => Number(typed.replace(',', '.'));

/** Air and panel, as measured now. The server says with the figures which coatings that forbids. */
export function ReadingsForm({ shop, onDone }: { shop: Shop; onDone: () => void }) {
  const zones = useKeptReading<PageOf<AirZone>>(`/v1/shops/${shop.id}/air-zones`);
  const [zone, setZone] = useState('');
  const [air, setAir] = useState('');
  const [humidity, setHumidity] = useState('');
  const [panel, setPanel] = useState('');
  const { error, busy, attempt } = useAttempt();
  const [outcome, setOutcome] = useState<{ against: readonly string[] } | 'kept' | null>(null);
  const items = zones.value?.items ?? [];
  const record = async (event: Event) => {
    event.preventDefault();
    const reading = {
      airZoneId: zone || items[0]?.id,
      at: new Date().toISOString(),
      source: 'measured',
      airTempC: figure(air),
      relativeHumidityPercent: figure(humidity),
      panelTempC: panel === '' ? null : figure(panel),
      jobId: null,
    };
    setOutcome(null);
    await attempt(async () => {
      const id = crypto.randomUUID();
      const path = `/v1/shops/${shop.id}/readings`;
      setOutcome((await send<{ against: string[] }>({ id, path, body: { readings: [reading] } })) ?? 'kept');
      onDone();
    });
  };
  const decimal = { inputMode: 'decimal', autoComplete: 'off' } as const;
  return (
    <details class="task">
      <summary>{text.readings}</summary>
      <form onSubmit={record}>
        <div class="fields">
          <Field
            label={text.zone}
            value={zone || (items[0]?.id ?? '')}
            onValue={setZone}
            options={items.map((each) => ({ value: each.id, label: each.name }))}
          />
          <Field label={text.air} value={air} onValue={setAir} input={{ ...decimal, required: true }} />
          <Field label={text.humidity} value={humidity} onValue={setHumidity} input={{ ...decimal, required: true }} />
          <Field label={text.panel} value={panel} onValue={setPanel} input={decimal} />
        </div>
        <div class="acts">
          <button type="submit" class="main" disabled={busy}>
            {text.record}
          </button>
        </div>
      </form>
      <ProblemNote error={error} />
      <div role="status">
        {outcome === 'kept' ? <div class="note watch">{text.queued(1)}</div> : null}
        {outcome !== null && outcome !== 'kept' ? (
          <div class={`note ${outcome.against.length > 0 ? 'alarm' : ''}`}>
            <strong>{text.recorded}</strong> {outcome.against.length > 0 ? text.against : text.fits}
            <ul>
              {outcome.against.map((each) => (
                <li key={each}>{each}</li>
              ))}
            </ul>
          </div>
        ) : null}
      </div>
    </details>
  );
}
