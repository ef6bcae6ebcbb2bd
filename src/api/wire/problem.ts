import { z } from 'zod';
import { Instant } from '../../trade/model/time.ts';
import { onTheWire } from './on-the-wire.ts';

/** Every kind of problem the API answers with: its status, its title, and what the caller can do. */
export const problemKinds = {
  'invalid-request': {
    status: 400,
    title: 'The request is not valid',
    advice: 'Correct the fields named in "errors".',
  },
  'malformed-json': { status: 400, title: 'The body is not JSON', advice: 'Send a well-formed JSON document.' },
  'not-signed-in': {
    status: 401,
    title: 'Nobody is signed in',
    advice: 'Sign in at /sign-in.html, or send "Authorization: Bearer" with a token.',
  },
  'not-allowed': {
    status: 403,
    title: 'Not allowed to whoever is signed in',
    advice: 'Ask somebody who may, or have the role changed by whoever admits people.',
  },
  'not-found': { status: 404, title: 'There is no such thing', advice: 'Check the address and the identifiers in it.' },
  'method-not-allowed': {
    status: 405,
    title: 'The method is not allowed here',
    advice: 'Use one of the methods in "Allow".',
  },
  'not-acceptable': {
    status: 406,
    title: 'No such representation',
    advice: 'Ask for a media type the operation offers.',
  },
  'wrong-state': {
    status: 409,
    title: 'Not possible in the present state',
    advice: 'Read the thing again and see its state.',
  },
  'slot-gone': {
    status: 409,
    title: 'The slot was taken meanwhile',
    advice: 'Take the nearest slot named, or quote again.',
  },
  'still-in-flight': {
    status: 409,
    title: 'The same request is still being answered',
    advice: 'Wait, then send it again with the same key.',
  },
  'reply-lost': {
    status: 409,
    title: 'The reply to this request was lost',
    advice: 'See whether it was done, then send what is missing with a new key.',
  },
  stale: { status: 412, title: 'It was changed meanwhile', advice: 'Read it again and use its new ETag.' },
  'too-large': { status: 413, title: 'The body is too large', advice: 'Send less at a time.' },
  'unsupported-media-type': {
    status: 415,
    title: 'The media type is not supported',
    advice: 'Send the media type the operation names.',
  },
  misdirected: {
    status: 421,
    title: 'Not the server of that name',
    advice: 'Use a name or address this server was told is its own.',
  },
  refused: { status: 422, title: 'The shop refuses it', advice: 'Each entry of "errors" is one reason.' },
  'nothing-fits': { status: 422, title: 'No plan holds it', advice: 'Take the nearest slot named, or ask for less.' },
  'gate-shut': {
    status: 422,
    title: 'A gate of the floor is shut',
    advice: 'Do what "errors" says is missing, then ask again.',
  },
  'key-reused': {
    status: 422,
    title: 'The idempotency key was used for another body',
    advice: 'Make a new key for a new request.',
  },
  'precondition-required': {
    status: 428,
    title: 'If-Match is required',
    advice: 'Send the ETag you last read in "If-Match".',
  },
  'too-many': { status: 429, title: 'Too many attempts', advice: 'Wait as long as "Retry-After" says.' },
  internal: { status: 500, title: 'Something went wrong on our side', advice: 'Report the request id.' },
  busy: { status: 503, title: 'Planning did not answer', advice: 'Ask again in a moment.' },
  'store-trouble': {
    status: 503,
    title: 'The database cannot do it now',
    advice: 'Nothing was done. Ask again after "Retry-After"; a change with the same idempotency key.',
  },
  'not-ready': { status: 503, title: 'The service is not ready', advice: 'Ask again in a moment.' },
} as const satisfies Record<string, { status: number; title: string; advice: string }>;

export type ProblemKind = keyof typeof problemKinds;

/** RFC 6901 pointer into the part of the request named by `in`, and what is wrong there. */
export const FieldError = z.object({
  in: z.enum(['body', 'query', 'path', 'header']),
  field: z.string(),
  message: z.string(),
  rule: z.string().optional(),
});
export type FieldError = z.infer<typeof FieldError>;

/** Problem details, RFC 9457. */
export const ProblemDetails = onTheWire(
  z.object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    instance: z.string().optional(),
    requestId: z.string().optional(),
    errors: z.array(FieldError).optional(),
    nearest: z
      .object({ dropOffAt: Instant, readyAt: Instant, pickupAt: Instant, confidencePercent: z.number() })
      .nullable()
      .optional(),
    currentVersion: z.int().nullable().optional(),
  }),
);
export type ProblemDetails = z.output<typeof ProblemDetails>;

/** An error of the API itself, apart from the shop's. */
export class ApiProblem extends Error {
  readonly kind: ProblemKind;
  readonly errors: readonly FieldError[];
  constructor(kind: ProblemKind, detail: string, errors: readonly FieldError[] = []) {
    super(detail);
    this.name = 'ApiProblem';
    this.kind = kind;
    this.errors = errors;
  }
}

/** An RFC 6901 pointer from a path given as keys. */
export function pointer(path: readonly (string | number)[]): string {
  return path.map((key) => `/${String(key).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}
