import { Instant } from '../trade/model/time.ts';
import type { Delay } from './delay.ts';
import { afterOpenMinutes, firstOpen, type OpenSpan, openMinutesBetween } from './open-time.ts';

export interface PickupInputs {
  /** When the plan has the car ready. */
  readonly plannedReadyAt: Instant;
  readonly delay: Delay;
  /** Least probability, in percent, at which a pickup is promised. */
  readonly confidencePercent: number;
  /** When delayed work can be made up, in order: the shop's working hours. */
  readonly workSpans: readonly OpenSpan[];
  /** When a car can be picked up, in order. */
  readonly pickupSpans: readonly OpenSpan[];
  /** Pickups are told on round times; 15 is common practice. */
  readonly roundToMinutes: number;
}

export interface BufferedPickup {
  readonly pickupAt: Instant;
  /** Probability, in percent, that the car is ready by then; at least what was asked. */
  readonly confidencePercent: number;
}

/** The earliest round pickup time whose probability reaches the asked confidence; null beyond the end of the hours given. */
export function bufferedPickup(inputs: PickupInputs): BufferedPickup | null {
  const buffer = inputs.delay.minutesAt(inputs.confidencePercent / 100);
  const readyBy = afterOpenMinutes(inputs.workSpans, inputs.plannedReadyAt, buffer);
  if (readyBy === null) return null;
  const opening = firstOpen(inputs.pickupSpans, readyBy);
  if (opening === null) return null;
  const step = inputs.roundToMinutes * 60_000;
  const round = Instant.parse(Math.ceil(opening / step) * step);
  // Rounding up may run past closing time; then the next opening is taken as it is.
  const pickupAt = firstOpen(inputs.pickupSpans, round);
  if (pickupAt === null) return null;
  return { pickupAt, confidencePercent: confidenceOf(pickupAt, inputs) };
}

/** Probability, in percent to one decimal, that a car is ready by an instant. */
export function confidenceOf(
  pickupAt: Instant,
  inputs: Pick<PickupInputs, 'plannedReadyAt' | 'delay' | 'workSpans'>,
): number {
  const slack = openMinutesBetween(inputs.workSpans, inputs.plannedReadyAt, pickupAt);
  return Math.round(inputs.delay.probabilityWithin(slack) * 1000) / 10;
}
