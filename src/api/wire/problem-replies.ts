import { ProblemDetails, type ProblemKind, problemKinds } from './problem.ts';

/**
 * The problem replies of an operation, for its `response` schema. Every operation can answer `internal` and `store-trouble`, and every
 * one with an address can answer `invalid-request`; name the others. The type is empty on purpose: a handler throws
 * problems and never sends them, so they do not widen what it may send.
 */
export function problemReplies(...kinds: readonly ProblemKind[]): Record<never, never> {
  const byStatus = new Map<number, ProblemKind[]>();
  for (const kind of new Set<ProblemKind>(['invalid-request', ...kinds, 'internal', 'store-trouble'])) {
    const { status } = problemKinds[kind];
    byStatus.set(status, [...(byStatus.get(status) ?? []), kind]);
  }
  return Object.fromEntries(
    [...byStatus].map(([status, names]) => [
      status,
      {
        description: names.map((name) => `${problemKinds[name].title} (\`/problems/${name}\`)`).join('; '),
        content: { 'application/problem+json': { schema: ProblemDetails } },
      },
    ]),
  );
}

/** What a POST with a JSON body and an Idempotency-Key can answer, whatever it does. */
export const ofPost = [
  'not-found',
  'malformed-json',
  'too-large',
  'unsupported-media-type',
  'still-in-flight',
  'reply-lost',
  'key-reused',
] as const satisfies readonly ProblemKind[];

/** What a change of something versioned can answer. */
export const ofVersioned = ['stale', 'precondition-required', 'wrong-state'] as const satisfies readonly ProblemKind[];
