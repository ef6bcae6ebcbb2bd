import { useState } from 'preact/hooks';
import type { RainReply, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { clockTime, daysAfter, localDateOf } from '../time/format.ts';
import { read } from '../wire/api.ts';
import { deskWords } from '../words/desk.ts';

const text = deskWords.phone;

/** It will rain: which cars it reaches, which of them must stay dry, and what to do. */
export function Rain({ shop, onChoose }: { shop: Shop; onChoose: (jobId: string) => void }) {
  const zone = shop.timeZone;
  const [day, setDay] = useState(daysAfter(localDateOf(zone, Date.now()), 1));
  const [temp, setTemp] = useState('');
  const [humidity, setHumidity] = useState('');
  const [rain, setRain] = useState<RainReply | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const look = async () => {
    const air = temp !== '' && humidity !== '' ? `&airTempC=${temp}&relativeHumidityPercent=${humidity}` : '';
    try {
      setRain(await read<RainReply>(`/v1/shops/${shop.id}/what-ifs/rain?day=${day}${air}`));
      setError(null);
    } catch (failure) {
      setError(failure as Error);
    }
  };
  return (
    <>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void look();
        }}
      >
        <div class="fields">
          <Field label={text.rainDay} value={day} onValue={setDay} input={{ type: 'date', required: true }} />
          <Field label={text.outsideTemp} value={temp} onValue={setTemp} input={{ inputMode: 'decimal' }} />
          <Field label={text.outsideHumidity} value={humidity} onValue={setHumidity} input={{ inputMode: 'numeric' }} />
        </div>
        <button type="submit">{text.rainAsk}</button>
      </form>
      <ProblemNote error={error} zone={zone} />
      {rain ? (
        <div role="status">
          {rain.cars.length === 0 ? <p>{text.nobodyWet}</p> : null}
          <ul class="wet">
            {rain.cars.map((each) => (
              <li key={each.jobId + each.how + each.from}>
                <span class={`mark ${each.verdict === 'mustStayDry' ? 'risk' : ''}`}>
                  {text.verdicts[each.verdict]}
                </span>
                <button type="button" class="plain" onClick={() => onChoose(each.jobId)}>
                  <strong>{each.car}</strong> {text.hows[each.how]} {clockTime(zone, each.from)}
                  {each.to === each.from ? '' : `–${clockTime(zone, each.to)}`}
                </button>
                <span>{each.todo}</span>
              </li>
            ))}
          </ul>
          <p>{text.dry(rain.sheltered)}</p>
          {temp !== '' && humidity !== '' ? (
            <>
              <h4>{text.coatings}</h4>
              {rain.coatings.length === 0 ? <p>{text.noCoatings}</p> : null}
              <ul>
                {rain.coatings.map((each) => (
                  <li key={each}>{each}</li>
                ))}
              </ul>
            </>
          ) : null}
          <p class="quiet">{text.sheetFirst}</p>
        </div>
      ) : null}
    </>
  );
}
