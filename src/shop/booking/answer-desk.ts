import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { noticesForDesk } from '../planning/plan-exceptions.ts';
import type { Inserted, ResidentBook } from '../planning/resident-book.ts';
import type { DeskAnswer, DeskQuestion } from './desk.ts';
import { forecastInBook } from './forecast-in-book.ts';
import { keepInBook } from './keep-in-book.ts';
import { keepMovingOthers, soonestMovingOthers } from './move-others.ts';
import { IMPATIENT, type Patience } from './patience.ts';
import { slotsInBook } from './slots-in-book.ts';
import { whatStoodInTheWay, whyNoPlace } from './why-no-place.ts';

/** Answers a question from an open book. Some of the answers are bounded by time. `onKept`: where a car goes that may be sold. */
export function answerDesk(
  resident: ResidentBook,
  question: Exclude<DeskQuestion, { kind: 'open' }>,
  seed: number,
  patience: Patience,
  onKept: (kept: Inserted) => void,
): DeskAnswer {
  const { job } = question;
  if (question.kind !== 'keep') {
    const slots =
      question.kind === 'nearest'
        ? slotsInBook(resident, job, null, IMPATIENT)
        : slotsInBook(resident, job, question.wantedDropOffAt, patience);
    if (slots.length === 0) return nowhere(resident, job, seed, patience.clock);
    return { kind: 'slots', slots, planVersion: resident.book.previousPlan?.version ?? 0 };
  }
  const { pickupAt } = question;
  const kept =
    keepInBook(resident, job, pickupAt === null ? { kind: 'earliest' } : { kind: 'exactly', pickupAt }) ??
    movingOthers(resident, question);
  if (kept === null) return nowhere(resident, job, seed, patience.clock, pickupAt);
  const { plan, violations } = resident.wholePlan(kept, { reason: question.reason, seed });
  if (violations.length > 0) {
    return { kind: 'broken', violations: violations.map(({ rule, text }) => ({ rule, field: '', text })) };
  }
  onKept(kept);
  return { kind: 'kept', job: kept.job, plan, exceptions: noticesForDesk(kept.formulation) };
}

/** Why there is no slot, as far as this book can tell. */
function nowhere(
  resident: ResidentBook,
  job: Job,
  seed: number,
  clock: () => number,
  pickupAt: Instant | null = null,
): DeskAnswer {
  const found = resident.insert({ ...job, promise: null });
  if (found === null || !('length' in found)) return { kind: 'cannotTell' };
  const [inserted] = found;
  if (inserted === undefined) {
    const inTheWay = whatStoodInTheWay(resident, job);
    return { kind: 'noPlace', reasons: [...inTheWay, ...whyNoPlace(resident, job, seed, clock)] };
  }
  if (pickupAt === null) return { kind: 'cannotTell' };
  const outlook = forecastInBook(resident, inserted)?.whole ?? null;
  const sure = outlook?.at(pickupAt).confidencePercent ?? 0;
  if (outlook === null || sure >= resident.book.shop.promiseConfidencePercent) return { kind: 'cannotTell' };
  return { kind: 'unsure', confidencePercent: sure, earliest: outlook.earliest?.pickupAt ?? null };
}

/** A choice that was quoted with others giving way finds the same way again. */
function movingOthers(resident: ResidentBook, { job, pickupAt }: Extract<DeskQuestion, { kind: 'keep' }>) {
  const { dropOffAt } = job;
  if (dropOffAt === null) return null;
  const { openUntil } = resident;
  return pickupAt === null
    ? soonestMovingOthers(resident, job, { readyAt: openUntil, pickupAt: openUntil })
    : keepMovingOthers(resident, { ...job, dropOffAt }, pickupAt);
}
