import type { FastifyRequest } from 'fastify';
import { describe, expect, test } from 'vitest';
import { expectedByPut, matchedVersion, matchesNone, tagOf } from '../../../src/api/wire/entity-tag.ts';
import { ApiProblem } from '../../../src/api/wire/problem.ts';
import { Stale } from '../../../src/shop/problems/problems.ts';

const asked = (headers: Record<string, string>) => ({ headers }) as unknown as FastifyRequest;

describe('entity tags (RFC 9110)', () => {
  test('tags compare as in the table of section 8.8.3.2', () => {
    // Weak comparison, for If-None-Match: W/"1" matches W/"1" and "1" and not W/"2".
    expect(matchesNone('W/"1"', 'W/"1"')).toBe(false);
    expect(matchesNone('W/"1"', 'W/"2"')).toBe(true);
    expect(matchesNone('W/"1"', '"1"')).toBe(false);
    expect(matchesNone('"1"', '"1"')).toBe(false);
    // Strong comparison, for If-Match: only "1" matches "1".
    expect(matchedVersion(asked({ 'if-match': '"1"' }), 'job', 1)).toBe(1);
    expect(() => matchedVersion(asked({ 'if-match': 'W/"1"' }), 'job', 1)).toThrow(Stale);
  });

  test('If-None-Match takes the examples of section 13.1.2', () => {
    const current = '"xyzzy"';
    expect(matchesNone('"xyzzy"', current)).toBe(false);
    expect(matchesNone('W/"xyzzy"', current)).toBe(false);
    expect(matchesNone('"xyzzy", "r2d2xxxx", "c3piozzzz"', current)).toBe(false);
    expect(matchesNone('W/"xyzzy", W/"r2d2xxxx", W/"c3piozzzz"', current)).toBe(false);
    expect(matchesNone('*', current)).toBe(false);
    expect(matchesNone('"r2d2xxxx"', current)).toBe(true);
    expect(matchesNone(undefined, current)).toBe(true);
  });

  test('If-Match takes a list, any of which may be the one that stands', () => {
    expect(matchedVersion(asked({ 'if-match': '"3", "4"' }), 'job', 4)).toBe(4);
    expect(() => matchedVersion(asked({ 'if-match': '"3", "5"' }), 'job', 4)).toThrow(Stale);
  });

  test('If-Match * takes whatever stands', () => {
    expect(matchedVersion(asked({ 'if-match': '*' }), 'job', 9)).toBe(9);
  });

  test('a job read beside one plan may be changed beside the next', () => {
    expect(matchedVersion(asked({ 'if-match': tagOf(4, 17) }), 'job', 4)).toBe(4);
    expect(() => matchedVersion(asked({ 'if-match': tagOf(14, 7) }), 'job', 4)).toThrow(Stale);
  });

  test('a write without a condition is asked for one, and nonsense is named', () => {
    expect(() => matchedVersion(asked({}), 'job', 4)).toThrow(ApiProblem);
    expect(() => matchedVersion(asked({ 'if-match': '4' }), 'job', 4)).toThrow(/entity tags/);
  });

  test('PUT makes what is not there only when asked to', () => {
    expect(expectedByPut(asked({ 'if-none-match': '*' }), 'place', null)).toBe('new');
    expect(() => expectedByPut(asked({ 'if-none-match': '*' }), 'place', 2)).toThrow(Stale);
    expect(() => expectedByPut(asked({ 'if-match': '"1"' }), 'place', null)).toThrow(Stale);
    expect(() => expectedByPut(asked({}), 'place', null)).toThrow(/If-None-Match/);
    expect(expectedByPut(asked({ 'if-match': '"2"' }), 'place', 2)).toBe(2);
  });
});
