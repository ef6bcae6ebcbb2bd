import type { PromiseCalibrationReply } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { duration } from '../time/format.ts';
import { useReading } from '../wire/use-reading.ts';
import { ownerWords } from '../words/owner.ts';
import { words } from '../words.ts';
import { FigurePanel, WideTable } from './figure-panel.tsx';
import { RangeBar } from './range-bar.tsx';

const text = ownerWords.calibration;
const percent = (figure: number) => `${Math.round(figure)} %`;

/** Whether promises were kept as often as was said, and whose cars are ready later than forecast. */
export function PromisesPanel({ shopId }: { shopId: string }) {
  const [reading, again] = useReading<PromiseCalibrationReply>(`/v1/shops/${shopId}/promises/calibration`);
  const { value } = reading;
  return (
    <FigurePanel
      id="promises"
      title={text.title}
      how={text.how}
      {...(value && value.promises > 0 ? { csv: `/v1/shops/${shopId}/promises/calibration.csv` } : {})}
    >
      {reading.state === 'failed' ? <ProblemNote error={reading.error} onRetry={again} /> : null}
      {value === null && reading.state === 'loading' ? <p>{words.loading}</p> : null}
      {value && value.promises === 0 ? <p class="note">{text.none}</p> : null}
      {value && value.promises > 0 ? (
        <>
          <Coverage value={value} />
          <dl class="facts">
            {value.brierScore === null ? null : (
              <>
                <dt>{text.brier}</dt>
                <dd>
                  {value.brierScore.toFixed(3)} <span class="quiet">{text.brierHow}</span>
                </dd>
              </>
            )}
            {value.pinballLossMinutes === null ? null : (
              <>
                <dt>{text.pinball}</dt>
                <dd>
                  {duration(value.pinballLossMinutes)} <span class="quiet">{text.pinballHow}</span>
                </dd>
              </>
            )}
            <dt>{text.spread}</dt>
            <dd>
              × {value.spreadFactor.toFixed(2)} <span class="quiet">{text.spreadHow}</span>
            </dd>
          </dl>
          <Bias value={value} />
        </>
      ) : null}
    </FigurePanel>
  );
}

function Coverage({ value }: { value: PromiseCalibrationReply }) {
  return (
    <WideTable caption={text.title}>
      <thead>
        <tr>
          <th scope="col">{text.given}</th>
          <th scope="col" class="number">
            {text.promises}
          </th>
          <th scope="col" class="number">
            {text.kept}
          </th>
          <th scope="col" colSpan={2}>
            {text.share}
          </th>
          <th scope="col">{text.verdict}</th>
        </tr>
      </thead>
      <tbody>
        {value.coverage.map((line) => (
          <tr key={line.givenPercent}>
            <th scope="row">{percent(line.givenPercent)}</th>
            <td class="number">{line.promises}</td>
            <td class="number">{line.kept}</td>
            <td class="number">
              {percent(line.keptPercent)}
              <small>{ownerWords.estimates.interval(percent(line.fromPercent), percent(line.toPercent))}</small>
            </td>
            <td class="scale">
              <RangeBar
                at={line.keptPercent / 100}
                from={line.fromPercent / 100}
                to={line.toPercent / 100}
                against={line.givenPercent / 100}
                clear={line.verdict !== 'asSaid'}
              />
            </td>
            <td>
              <span class={`mark ${line.verdict === 'asSaid' ? 'safe' : 'soon'}`}>{text.verdicts[line.verdict]}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
}

function Bias({ value }: { value: PromiseCalibrationReply }) {
  const lines = [...value.byRecipe, ...value.byPerson];
  if (lines.length === 0) return null;
  return (
    <>
      <h3>{text.biasTitle}</h3>
      <WideTable caption={text.biasTitle}>
        <thead>
          <tr>
            <th scope="col">{text.of}</th>
            <th scope="col" class="number">
              {text.promises}
            </th>
            <th scope="col" class="number">
              {text.bias}
            </th>
            <th scope="col">{text.verdict}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.name}>
              <th scope="row">{line.name}</th>
              <td class="number">{line.promises}</td>
              <td class="number">
                {duration(line.meanMinutes)}
                {line.standardErrorMinutes === null ? null : (
                  <small>{text.error(duration(line.standardErrorMinutes))}</small>
                )}
              </td>
              <td>{line.clear ? <span class="mark soon">{text.clear}</span> : <span>{text.unclear}</span>}</td>
            </tr>
          ))}
        </tbody>
      </WideTable>
    </>
  );
}
