import { z } from 'zod';
import { JobId } from './ids.ts';
import { Instant } from './time.ts';

/**
 * What a customer is written about. `booked`: the booking stands. `reminder`: the drop-off is near. `scope`: the inspection
 * asks for more, yes or no. `timesChanged`: the desk told another drop-off or pickup. `ready`: the car can be fetched.
 * `aftercare`: what to keep from it after pickup.
 */
export const MessageKind = z.enum(['booked', 'reminder', 'scope', 'timesChanged', 'ready', 'aftercare']);
export type MessageKind = z.infer<typeof MessageKind>;

/**
 * `queued`: to be sent, or tried again. `sending`: somebody has it in hand. `sent`: the mail server took it. `failed`: it did
 * not go out and is not tried again. `unknown`: the connection or the process ended after the text was handed over and
 * before the answer: it may have gone out. `dropped`: it no longer applied when its turn came.
 */
export const MessageState = z.enum(['queued', 'sending', 'sent', 'failed', 'unknown', 'dropped']);
export type MessageState = z.infer<typeof MessageState>;

/** A message in the queue. Its text is made when it is sent, so that it says what holds then. */
export const QueuedMessage = z.object({
  jobId: JobId,
  kind: MessageKind,
  /** What it is about, such as which version of the told times: the same message twice is one row. */
  occasion: z.string().min(1).max(64),
  state: MessageState,
  attempts: z.int().nonnegative(),
  queuedAt: Instant,
  /** Not before this instant. */
  dueAt: Instant,
  /** Of the last change of state. */
  changedAt: Instant,
  /** Why it was not sent, in words; empty otherwise. */
  fault: z.string().max(500),
});
export type QueuedMessage = z.infer<typeof QueuedMessage>;

/** The times told to a customer, numbered from 1; a new number whenever the desk tells others. */
export const ToldTimes = z.object({
  jobId: JobId,
  number: z.int().positive(),
  dropOffAt: Instant.nullable(),
  pickupAt: Instant.nullable(),
  toldAt: Instant,
});
export type ToldTimes = z.infer<typeof ToldTimes>;
