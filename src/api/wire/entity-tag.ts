import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { Stale } from '../../shop/problems/problems.ts';
import { ApiProblem } from './problem.ts';

/** Entity tags and conditional requests, RFC 9110 sections 8.8.3 and 13. */
const list = /^\s*(?:(?:W\/)?"[\x21\x23-\x7e\x80-\xff]*"\s*(?:,\s*|$))+$/;
const tag = /(?:W\/)?"[\x21\x23-\x7e\x80-\xff]*"/g;

/**
 * The strong tag of a stored version, and of the plan it is shown beside where it is. A write matches on the version alone:
 * a plan made meanwhile changes what is read and not what is written.
 */
export function tagOf(version: number, planVersion?: number): string {
  return planVersion === undefined ? `"${version}"` : `"${version}-${planVersion}"`;
}

/** Headers of a write to something versioned, for the document. Their absence is answered with 428 and not 400. */
export const IfMatch = z.object({
  'if-match': z.string().optional().describe('The ETag last read. Required: without it 428, when stale 412.'),
});

/** Headers of a PUT that creates as well as replaces. */
export const IfMatchOrNew = IfMatch.extend({
  'if-none-match': z.string().optional().describe('`*` to create; then there must be nothing at this address yet.'),
});

/** True when none of the tags a reader holds is this one (weak comparison): send the whole. */
export function matchesNone(header: string | undefined, current: string): boolean {
  if (header === undefined) return true;
  if (header.trim() === '*') return false;
  const opaque = current.replace(/^W\//, '');
  return !(header.match(tag) ?? []).some((each) => each.replace(/^W\//, '') === opaque);
}

/**
 * The version a write may replace, from If-Match against what stands now (strong comparison).
 * @throws precondition-required when the header is missing, stale when it names another version
 */
export function matchedVersion(request: FastifyRequest, what: string, current: number): number {
  const header = request.headers['if-match'];
  if (header === undefined) {
    throw new ApiProblem('precondition-required', `Changing a ${what} takes the ETag you last read, in If-Match.`, [
      { in: 'header', field: '/if-match', message: 'is required' },
    ]);
  }
  if (header.trim() === '*') return current;
  if (!list.test(header)) {
    throw new ApiProblem('invalid-request', 'If-Match is not a list of entity tags.', [
      { in: 'header', field: '/if-match', message: 'must be entity tags in double quotes, or *' },
    ]);
  }
  const named: string[] = header.match(tag) ?? [];
  const versions = named.map((each) => (each.startsWith('W/') ? Number.NaN : Number.parseInt(each.slice(1), 10)));
  if (versions.includes(current)) return current;
  const expected = versions[0] ?? 0;
  throw new Stale(what, Number.isInteger(expected) ? expected : 0, current);
}

/** What a PUT expects to find: `new` with `If-None-Match: *`, else the version If-Match names. */
export function expectedByPut(request: FastifyRequest, what: string, current: number | null): number | 'new' {
  if (request.headers['if-none-match']?.trim() === '*') {
    if (current !== null) throw new Stale(what, 0, current);
    return 'new';
  }
  if (current === null) {
    if (request.headers['if-match'] !== undefined) throw new Stale(what, 0, null);
    throw new ApiProblem('precondition-required', `Making a new ${what} takes "If-None-Match: *".`, [
      { in: 'header', field: '/if-none-match', message: 'must be * to create' },
    ]);
  }
  return matchedVersion(request, what, current);
}
