import type { Place, Technician, WhatIfReply } from '../../api/replies.ts';
import { dayAndTime, duration } from '../time/format.ts';
import { deskWords } from '../words/desk.ts';
import { shiftOf } from './shift-of.ts';

const text = deskWords.whatIf;

type Move = WhatIfReply['moves'][number];

interface AnswerProps {
  readonly answer: WhatIfReply;
  readonly zone: string;
  readonly places: readonly Place[];
  readonly people: readonly Technician[];
}

/** The engine's answer: allowed or which rule forbids it, what moves and by how much, and what becomes of the pickups. */
export function WhatIfAnswer({ answer, zone, places, people }: AnswerProps) {
  const { allowed, reasons, moves, pickups, objective } = answer;
  const broken = pickups.some((each) => each.broken);
  const cars = carsOf(moves);
  const costs = objective.filter((each) => each.tier !== 'change');
  return (
    <section class="answer" aria-label={text.title}>
      <p class={`verdict ${allowed ? (broken ? 'breaks' : 'fits') : 'not'}`} role="status">
        {allowed ? (broken ? `▲ ${text.fitsButBreaks}` : `✓ ${text.fits}`) : `✕ ${text.fitsNot}`}
      </p>
      {reasons.length > 0 ? (
        <ul class="reasons">
          {reasons.map((each) => (
            <li key={each.text}>
              <span class="mark">{ruleName(each.rule)}</span> {each.text}
            </li>
          ))}
        </ul>
      ) : null}
      {allowed ? (
        <>
          <h3>{moves.length === 0 ? text.unmoved : text.moves(moves.length, cars.length)}</h3>
          <ul class="moved">
            {cars.map((car) => (
              <MovedCar key={car.jobId} {...car} zone={zone} places={places} people={people} />
            ))}
          </ul>
          <h3>{pickups.length === 0 ? text.noPickups : text.pickups}</h3>
          <ul class="moved">
            {pickups.map((each) => (
              <li key={each.jobId} class={each.broken ? 'breaks' : ''}>
                <strong>{each.car}</strong>
                <span>{text.ready(dayAndTime(zone, each.readyAtBefore), dayAndTime(zone, each.readyAtAfter))}</span>
                <span class={`mark ${each.broken ? 'risk' : 'safe'}`}>
                  {each.lateMinutesAfter > 0
                    ? text.breaks(duration(each.lateMinutesAfter))
                    : each.promisedPickupAt
                      ? text.keeps
                      : text.noPromise}
                </span>
              </li>
            ))}
          </ul>
          {costs.length > 0 ? (
            <>
              <h3>{text.price}</h3>
              <ul class="moved">
                {costs.map((each) => (
                  <li key={each.tier}>
                    <span>{text.tiers[each.tier] ?? each.tier}</span>
                    <span>
                      {each.before} → {each.after}
                    </span>
                    <span class="quiet">{each.after < each.before ? text.less : text.more}</span>
                  </li>
                ))}
              </ul>
            </>
          ) : null}
        </>
      ) : null}
    </section>
  );
}

function carsOf(moves: readonly Move[]): { jobId: string; car: string; moves: Move[] }[] {
  const cars = new Map<string, { jobId: string; car: string; moves: Move[] }>();
  for (const move of moves) {
    const car = cars.get(move.jobId) ?? { jobId: move.jobId, car: move.car, moves: [] };
    cars.set(move.jobId, { ...car, moves: [...car.moves, move] });
  }
  return [...cars.values()];
}

/** One car's work that moves: a rail from the first hour to the last, hollow where it is planned now, filled where it would be. */
function MovedCar({
  car,
  moves,
  zone,
  places,
  people,
}: {
  car: string;
  moves: readonly Move[];
  zone: string;
  places: readonly Place[];
  people: readonly Technician[];
}) {
  const hours = moves.flatMap((each) => [Date.parse(each.before.start), Date.parse(each.after.start)]);
  const first = Math.min(...hours);
  const span = Math.max(1, Math.max(...hours) - first);
  const x = (at: string) => `${(100 * (Date.parse(at) - first)) / span}%`;
  const most = moves.reduce((far, each) => (Math.abs(each.laterMinutes) > Math.abs(far) ? each.laterMinutes : far), 0);
  const nameOf = (id: string | null) => places.find((each) => each.id === id)?.name.split(',')[0] ?? '';
  const crewOf = (ids: readonly string[]) =>
    ids.map((id) => people.find((each) => each.id === id)?.name ?? id).join(', ');
  const place = (each: Move) =>
    each.before.placeId === each.after.placeId
      ? ''
      : ` · ${nameOf(each.before.placeId)} → ${nameOf(each.after.placeId)}`;
  const crew = (each: Move) =>
    crewOf(each.before.people) === crewOf(each.after.people)
      ? ''
      : ` · ${crewOf(each.before.people)} → ${crewOf(each.after.people)}`;
  return (
    <li>
      <strong>{car}</strong>
      <span class="rail" aria-hidden="true">
        {moves.map((each) => (
          <span key={each.operation}>
            <i class="was" style={{ left: x(each.before.start) }} />
            <i class="then" style={{ left: x(each.after.start) }} />
          </span>
        ))}
      </span>
      <span>{shiftOf(most)}</span>
      <details>
        <summary>{text.work(moves.length)}</summary>
        <ul class="plain">
          {moves.map((each) => (
            <li key={each.operation}>
              {each.label}: {dayAndTime(zone, each.before.start)} → {dayAndTime(zone, each.after.start)}
              {place(each)}
              {crew(each)}
            </li>
          ))}
        </ul>
      </details>
    </li>
  );
}

function ruleName(rule: string): string {
  return text.refusals[rule.split('.').at(-1) ?? ''] ?? rule;
}
