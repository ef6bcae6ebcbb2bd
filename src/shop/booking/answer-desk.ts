import { noticesForDesk } from '../planning/plan-exceptions.ts';
import type { ResidentBook } from '../planning/resident-book.ts';
import type { DeskAnswer, DeskQuestion } from './desk.ts';
import { keepInBook } from './keep-in-book.ts';
import { keepMovingOthers } from './move-others.ts';
import { slotsInBook } from './slots-in-book.ts';
import { whyNoPlace } from './why-no-place.ts';

/** Answers a question from an open book. `clock` in milliseconds, for the one answer that is bounded by time. */
export function answerDesk(
  resident: ResidentBook,
  question: DeskQuestion,
  seed: number,
  clock: () => number,
): DeskAnswer {
  const { job } = question;
  if (question.kind === 'why') return { kind: 'why', reasons: whyNoPlace(resident, job, seed, clock) };
  if (question.kind === 'slots') {
    const slots = slotsInBook(resident, job, question.wantedDropOffAt);
    if (slots.length > 0) return { kind: 'slots', slots };
    const found = resident.insert(job);
    return found !== null && 'length' in found && found.length === 0 ? { kind: 'noPlace' } : { kind: 'cannotTell' };
  }
  const { pickupAt } = question;
  const kept =
    keepInBook(resident, job, pickupAt === null ? { kind: 'earliest' } : { kind: 'exactly', pickupAt }) ??
    movingOthers(resident, question);
  if (kept === null) return { kind: 'cannotTell' };
  const { plan, violations } = resident.wholePlan(kept, { reason: question.reason, seed });
  if (violations.length > 0) {
    return { kind: 'broken', violations: violations.map(({ rule, text }) => ({ rule, field: '', text })) };
  }
  return { kind: 'kept', job: kept.job, plan, exceptions: noticesForDesk(kept.formulation) };
}

/** A choice that was quoted with others giving way finds the same way again. */
function movingOthers(resident: ResidentBook, { job, pickupAt }: Extract<DeskQuestion, { kind: 'keep' }>) {
  if (job.dropOffAt === null || pickupAt === null) return null;
  const kept = keepMovingOthers(resident, { ...job, dropOffAt: job.dropOffAt }, pickupAt);
  return kept === 'lessSure' ? null : kept;
}
