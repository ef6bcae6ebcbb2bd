import { useEffect, useState } from 'preact/hooks';
import type { PromiseOutlook, RemediesReply, Remedy, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime, duration } from '../time/format.ts';
import { call, read } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { deskWords } from '../words/desk.ts';
import { words } from '../words.ts';
import { deskName, keepDeskName } from './desk-name.ts';

const text = deskWords.risk;

interface PromiseRiskProps {
  readonly shop: Shop;
  readonly outlook: PromiseOutlook;
  readonly onChange: () => void;
}

/** Why a promise is at risk, what would help, what that costs others, and the doing of it. */
export function PromiseRisk({ shop, outlook, onChange }: PromiseRiskProps) {
  const at = `/v1/shops/${shop.id}/promises/${outlook.jobId}/remedies`;
  const [found, setFound] = useState<RemediesReply | null>(null);
  const [applied, setApplied] = useState(false);
  const [by, setBy] = useState(deskName);
  const { error, busy, attempt, setError } = useAttempt();
  const { jobId, probabilityPercent } = outlook;
  useEffect(() => {
    setFound(null);
    setApplied(false);
    setError(null);
  }, [jobId]);
  const find = () => attempt(async () => setFound(await read<RemediesReply>(at)));
  const apply = (remedy: Remedy, planVersion: number) =>
    attempt(async () => {
      keepDeskName(by.trim());
      const path = `${at}/${encodeURIComponent(remedy.key)}/apply`;
      await call(path, { method: 'POST', body: { planVersion, by: by.trim() } });
      setFound(null);
      setApplied(true);
      onChange();
    });
  return (
    <section class="risk-why">
      <h3>{text.title}</h3>
      <p>{text.sure(Math.round(probabilityPercent))}</p>
      <Causes blame={(found ?? outlook).blame} />
      {applied ? (
        <p class="verdict fits" role="status">
          ✓ {text.applied}
        </p>
      ) : null}
      {found === null ? (
        <div class="bar no-print">
          <button type="button" disabled={busy} onClick={find}>
            {text.find}
          </button>
          <span role="status">{busy ? text.finding : ''}</span>
        </div>
      ) : (
        <>
          {found.remedies.length > 0 ? <Field label={words.exceptions.who} value={by} onValue={setBy} /> : null}
          <ul class="remedies">
            {found.remedies.length === 0 ? <li>{text.none}</li> : null}
            {found.remedies.map((remedy) => (
              <RemedyLine
                key={remedy.key}
                remedy={remedy}
                zone={shop.timeZone}
                promisedAt={found.promisedPickupAt}
                busy={busy || by.trim() === ''}
                onApply={() => apply(remedy, found.planVersion)}
              />
            ))}
          </ul>
        </>
      )}
      <ProblemNote error={error} zone={shop.timeZone} />
    </section>
  );
}

function Causes({ blame }: Pick<PromiseOutlook, 'blame'>) {
  const { operations, resources } = blame;
  if (operations.length === 0 && resources.length === 0) return <p class="quiet">{text.nothing}</p>;
  return (
    <dl class="causes">
      {operations.length > 0 ? <dt>{text.work}</dt> : null}
      {operations.slice(0, 4).map((each) => (
        <dd key={each.jobId + each.operation}>
          <span class="share" aria-hidden="true" style={{ width: `${each.sharePercent}%` }} />
          <strong>{each.label}</strong> <span class="quiet">{each.car}</span>
          <br />
          {text.overrun(duration(each.overrunMinutes), Math.round(each.sharePercent))}
        </dd>
      ))}
      {resources.length > 0 ? <dt>{text.waits}</dt> : null}
      {resources.slice(0, 4).map((each) => (
        <dd key={each.kind + each.name}>
          <span class="share" aria-hidden="true" style={{ width: `${each.sharePercent}%` }} />
          <strong>{each.name || text.kinds[each.kind]}</strong> {text.share(Math.round(each.sharePercent))}
        </dd>
      ))}
    </dl>
  );
}

function RemedyLine({
  remedy,
  zone,
  promisedAt,
  busy,
  onApply,
}: {
  remedy: Remedy;
  zone: string;
  promisedAt: string;
  busy: boolean;
  onApply: () => void;
}) {
  const { costs, changes, overtimeMinutes, pickupAt, percentWith } = remedy;
  return (
    <li>
      <strong>{remedy.text}</strong>
      <span class="mark safe">{text.makes(Math.round(percentWith))}</span>
      <ul>
        {changes.map((each) => (
          <li key={each}>{each}</li>
        ))}
        {overtimeMinutes > 0 ? <li>{text.overtime(duration(overtimeMinutes))}</li> : null}
        {pickupAt === promisedAt ? null : <li>{text.pickup(dayAndTime(zone, pickupAt))}</li>}
      </ul>
      {costs.length === 0 ? <p class="quiet">{text.free}</p> : <p>{text.costs}</p>}
      <ul>
        {costs.map((each) => (
          <li key={each.jobId}>{text.cost(each.car, Math.round(each.percentBefore), Math.round(each.percentAfter))}</li>
        ))}
      </ul>
      <button type="button" class="no-print" disabled={busy} onClick={onApply}>
        {text.apply} <span class="visually-hidden">{remedy.text}</span>
      </button>
    </li>
  );
}
