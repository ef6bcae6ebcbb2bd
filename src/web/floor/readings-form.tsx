import { useState } from 'preact/hooks';
import type { AirZone, PageOf, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { call } from '../wire/api.ts';
import { useReading } from '../wire/use-reading.ts';
import { words } from '../words.ts';

const text = words.floor;

/** Air and panel, as measured now. The server says what it means for the coatings planned. */
export function ReadingsForm({ shop }: { shop: Shop }) {
  const [zones] = useReading<PageOf<AirZone>>(`/v1/shops/${shop.id}/air-zones`);
  const [zone, setZone] = useState('');
  const [air, setAir] = useState('');
  const [humidity, setHumidity] = useState('');
  const [panel, setPanel] = useState('');
  const [error, setError] = useState<Error | null>(null);
  const [outcome, setOutcome] = useState<readonly string[] | null>(null);
  const items = zones.value?.items ?? [];
  const record = async (event: Event) => {
    event.preventDefault();
    const reading = {
      airZoneId: zone || items[0]?.id,
      at: new Date().toISOString(),
      source: 'measured',
      airTempC: Number(air),
      relativeHumidityPercent: Number(humidity),
      panelTempC: panel === '' ? null : Number(panel),
      jobId: null,
    };
    try {
      const { value } = await call<{ against: string[] }>(`/v1/shops/${shop.id}/readings`, {
        method: 'POST',
        body: { readings: [reading] },
      });
      setOutcome(value.against);
      setError(null);
    } catch (failure) {
      setError(failure as Error);
    }
  };
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
          <Field label={text.air} value={air} onValue={setAir} input={{ inputMode: 'decimal', required: true }} />
          <Field
            label={text.humidity}
            value={humidity}
            onValue={setHumidity}
            input={{ inputMode: 'decimal', required: true }}
          />
          <Field label={text.panel} value={panel} onValue={setPanel} input={{ inputMode: 'decimal' }} />
        </div>
        <div class="acts">
          <button type="submit" class="main">
            {text.record}
          </button>
        </div>
      </form>
      <ProblemNote error={error} />
      {outcome ? (
        <div class={`note ${outcome.length > 0 ? 'alarm' : ''}`} role="status">
          {text.recorded} {outcome.join(' ')}
        </div>
      ) : null}
    </details>
  );
}
