import type { ComponentChildren } from 'preact';
import type { Job, PromiseOutlook, TimelineReply } from '../../api/replies.ts';
import { doingOf, stateOf } from '../parts/doing.ts';
import { Plate, plateOf } from '../parts/plate.tsx';
import { useNow } from '../parts/use-now.ts';
import { clockTime, dayAndTime, duration, localDateOf } from '../time/format.ts';
import { words } from '../words.ts';

const FUSE_MS = 4 * 3_600_000;

interface LedgeProps {
  readonly today: TimelineReply | null;
  readonly jobs: ReadonlyMap<string, Job>;
  /** Null until they are read. */
  readonly promises: readonly PromiseOutlook[] | null;
  readonly asked: number;
  readonly zone: string;
  readonly onChoose: (jobId: string) => void;
}

interface Line {
  readonly key: string;
  readonly jobId: string;
  readonly plate: string;
  readonly text: string;
  readonly when: string;
  readonly at: number;
  readonly why?: string;
  /** A window that closes then. */
  readonly closes?: number;
}

/** What has to be decided first, each list with the most pressing on top. */
export function Ledge({ today, jobs, promises, asked, zone, onChoose }: LedgeProps) {
  const now = useNow(30_000);
  const text = words.ledge;
  const plate = (jobId: string, car = '') => plateOf(jobs.get(jobId), car);
  const operations = today?.places.flatMap((place) => place.stays.flatMap((stay) => stay.operations)) ?? [];
  const once = [...new Map(operations.map((each) => [each.jobId + each.operation, each])).values()];
  const windows = [
    ...once
      .filter((each) => each.windowClosesAt && each.state === 'planned')
      .map((each) => line(each.jobId + each.operation, each.jobId, each.label, each.windowClosesAt ?? '', true)),
    ...[...jobs.values()].flatMap((job) => [
      ...(job.state === 'held' && job.holdUntil
        ? [line(`h${job.id}`, job.id, text.holdEnds, job.holdUntil, true)]
        : []),
      ...(job.scope?.answer === 'awaited' ? [line(`a${job.id}`, job.id, text.answerBy, job.scope.answerBy, true)] : []),
    ]),
  ].sort((a, b) => a.at - b.at);
  const standing = once
    .filter((each) => doingOf(each) === 'still' && stateOf(each, now) !== 'finished')
    .map((each) => ({
      ...line(each.jobId + each.operation, each.jobId, each.label, each.end, false),
      ...(stateOf(each, now) === 'planned' ? { why: text.from(clockTime(zone, each.start)) } : {}),
    }))
    .sort((a, b) => a.at - b.at);
  const risky = (promises ?? [])
    .filter((each) => each.atRisk)
    .map((each) => ({
      ...line(each.jobId, each.jobId, each.customer, each.promisedPickupAt, false),
      why: whyAtRisk(each, asked, zone),
    }));
  const isToday = (at: string | null | undefined) =>
    Boolean(at) && localDateOf(zone, at ?? 0) === localDateOf(zone, now);
  const comings = [...jobs.values()].flatMap((job) => [
    ...(job.state === 'booked' && isToday(job.dropOffAt)
      ? [line(`in${job.id}`, job.id, text.comes(job.customer.name), job.dropOffAt ?? '', false)]
      : []),
    ...(job.state === 'inShop' && isToday(job.promise?.pickupAt)
      ? [line(`out${job.id}`, job.id, text.goes(job.customer.name), job.promise?.pickupAt ?? '', false)]
      : []),
  ]);
  function line(key: string, jobId: string, label: string, at: string, closing: boolean): Line {
    const ms = Date.parse(at);
    const day = localDateOf(zone, ms) === localDateOf(zone, now);
    return {
      key,
      jobId,
      plate: plate(jobId),
      text: label,
      at: ms,
      when: day ? clockTime(zone, ms) : dayAndTime(zone, ms),
      ...(closing ? { closes: ms } : {}),
    };
  }
  return (
    <div class="ledge no-print">
      <List
        title={text.windows}
        tone={windows.some((each) => each.at - now < FUSE_MS / 2) ? 'soon' : ''}
        lines={windows}
        none={today === null ? words.loading : text.noWindows}
        onChoose={onChoose}
      >
        {(each) => (
          <span class="why">
            {each.at <= now
              ? text.closed(duration((now - each.at) / 60_000))
              : text.left(duration((each.at - now) / 60_000))}
            <span class="fuse" aria-hidden="true">
              <span style={{ width: `${Math.min(100, Math.max(0, (100 * (each.at - now)) / FUSE_MS))}%` }} />
            </span>
          </span>
        )}
      </List>
      <List
        title={text.risks}
        tone={risky.length > 0 ? 'pressing' : ''}
        lines={risky}
        none={promises === null ? words.loading : text.noRisks}
        onChoose={onChoose}
      >
        {(each) => <span class="why">{each.why}</span>}
      </List>
      <List
        title={text.standing}
        tone=""
        lines={standing}
        none={today === null ? words.loading : text.noStanding}
        onChoose={onChoose}
      >
        {(each) => (each.why ? <span class="why">{each.why}</span> : null)}
      </List>
      <List
        title={text.comings}
        tone=""
        lines={comings.sort((a, b) => a.at - b.at)}
        none={text.noComings}
        onChoose={onChoose}
      >
        {() => null}
      </List>
    </div>
  );
}

function List({
  title,
  tone,
  lines,
  none,
  onChoose,
  children,
}: {
  title: string;
  tone: string;
  lines: readonly Line[];
  none: string;
  onChoose: (jobId: string) => void;
  children: (line: Line) => ComponentChildren;
}) {
  return (
    <section class={tone} aria-label={title}>
      <h2>
        {title} <span class="count">{lines.length}</span>
      </h2>
      {lines.length === 0 ? <p class="quiet">{none}</p> : null}
      <ul>
        {lines.map((each) => (
          <li key={each.key}>
            <button type="button" class="plain" onClick={() => onChoose(each.jobId)}>
              <Plate text={each.plate} /> {each.text}
            </button>
            <span class="when">{each.when}</span>
            {children(each)}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Why a promise is in danger, from its own figures. */
export function whyAtRisk(outlook: PromiseOutlook, asked: number, zone: string): string {
  const { slackMinutes, plannedReadyAt, medianReadyAt, probabilityPercent } = outlook;
  const text = words.promises;
  if (slackMinutes < 0) return text.lateBecause(duration(-slackMinutes));
  const percent = Math.round(probabilityPercent);
  return text.thinBecause(dayAndTime(zone, plannedReadyAt), dayAndTime(zone, medianReadyAt), percent, asked);
}
