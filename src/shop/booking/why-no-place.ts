import { DateTime } from 'luxon';
import { explain } from '../../engine/explain/explain.ts';
import type { Problem } from '../../engine/problem/problem.ts';
import type { ConflictPart, Status } from '../../engine/problem/solution.ts';
import { solve } from '../../engine/solve.ts';
import type { Job } from '../../trade/model/job.ts';
import type { ResidentBook } from '../planning/resident-book.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** Attempts at solving for the conflict, and again for what would fit; each is the one car among what the others take. */
const MOST_ATTEMPTS = 60;
const WORK_EACH = 20;
/** Somebody is on the telephone: attempts after so long are not made, and what they would have shown is not claimed. */
const TIME_LIMIT_MS = 60;
/** What the desk can talk about first; the order of the work last. */
const TOLD_FIRST: readonly ConflictPart['kind'][] = ['fixed', 'deadline', 'opening', 'place', 'resource', 'budget'];

/** No more than so much of either is told to a person on the telephone. */
const MOST_PARTS = 8;
const MOST_CHANGES = 4;

/** What stood last in the way of a car that was just found no place for. */
export function whatStoodInTheWay({ blocked, formulation, book }: ResidentBook, job: Job): Objection[] {
  if (blocked === null) return [];
  const { problem } = formulation;
  const when = job.dropOffAt === null ? 'in the weeks that are open' : 'for a car that comes at this hour';
  const { obstacle, index } = blocked;
  const field = job.dropOffAt === null ? 'earliestDropOff' : 'dropOffAt';
  const say = (text: string): Objection[] => [{ rule: `blocked.${obstacle}`, field, text }];
  if (obstacle === 'resource') return say(`${problem.resources[index]?.name} is taken or not there ${when}.`);
  if (obstacle === 'air') return say(`The air of ${book.airZones[index]?.name} is not clear ${when}.`);
  if (obstacle === 'budget') return say(`What a person may polish in a day is used up ${when}.`);
  if (obstacle === 'lag') return say(`Work that has to follow within its window finds nobody free ${when}.`);
  if (obstacle === 'fixed') return say(`The first work on the car finds no place or nobody free ${when}.`);
  if (obstacle === 'place') return say(`No place that its work needs is free for long enough ${when}.`);
  return say(`People and places for its work are not there together ${when}.`);
}

/**
 * Why a car finds no place in what the others leave it, and the nearest things that would fit, in words. The others stand
 * as they are planned: their places and people are taken. Empty when among them alone there is a place, so that something
 * else (the air of a zone, a promise) stands against it.
 */
export function whyNoPlace(resident: ResidentBook, job: Job, seed: number, clock: () => number): Objection[] {
  const alone = resident.amongTheOthers(job);
  if (alone === null) return [];
  const { axis } = resident.formulation;
  const zone = resident.book.shop.timeZone;
  const tellMinute = (minute: number) =>
    DateTime.fromMillis(axis.toInstant(minute), { zone }).toFormat('yyyy-MM-dd HH:mm');
  const until = clock() + TIME_LIMIT_MS;
  const cancelled = () => clock() >= until;
  const trySolve = (problem: Problem): Status =>
    cancelled() ? 'unknown' : solve(problem, { seed, workLimit: WORK_EACH, cancelled }).status;
  const first = trySolve(alone);
  if (first === 'feasible' || first === 'optimal') return [];
  const { conflict, nearest } = explain(alone, trySolve, { attempts: MOST_ATTEMPTS, tellMinute, cancelled });
  // What is left of a search that was cut short is everything: no reason.
  const parts = conflict.parts.length > MOST_PARTS ? [] : conflict.parts;
  const field = job.dropOffAt === null ? '' : 'dropOffAt';
  const label = conflict.minimal
    ? 'Without any one of these it would fit:'
    : 'These stand against it; it is not proved that all of them are needed:';
  return [
    ...(parts.length === 0
      ? []
      : [{ rule: conflict.minimal ? 'conflict.minimal' : 'conflict.notMinimal', field, text: label }]),
    ...inTellingOrder(parts).map(({ kind, text }) => ({ rule: `conflict.${kind}`, field, text })),
    ...nearest
      .slice(0, MOST_CHANGES)
      .map(({ text }) => ({ rule: 'wouldFit', field, text: `It would fit so: ${inHours(text)}` })),
  ];
}

function inTellingOrder(parts: readonly ConflictPart[]): ConflictPart[] {
  const place = ({ kind }: ConflictPart) => (TOLD_FIRST.includes(kind) ? TOLD_FIRST.indexOf(kind) : TOLD_FIRST.length);
  return [...parts].sort((a, b) => place(a) - place(b));
}

/** A sentence of the engine with its minutes put as hours and days. */
function inHours(text: string): string {
  return text.replaceAll(/\b(\d+) minutes\b/g, (said, figure: string) => {
    const minutes = Number(figure);
    if (minutes % 1440 === 0) return minutes === 1440 ? '1 day' : `${minutes / 1440} days`;
    if (minutes % 60 === 0) return minutes === 60 ? '1 hour' : `${minutes / 60} hours`;
    return said;
  });
}
