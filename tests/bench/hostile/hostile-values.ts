import type { SeededRandom } from '../../engine/random/seeded-random.ts';

const deepArray = (depth: number): unknown => {
  let value: unknown = 0;
  for (let n = 0; n < depth; n += 1) value = [value];
  return value;
};
const deepObject = (depth: number): unknown => {
  let value: unknown = 0;
  for (let n = 0; n < depth; n += 1) value = { a: value };
  return value;
};

/** Texts that break careless programmes: injection, other scripts, no script at all, too much. */
export const hostileTexts: readonly string[] = [
  '',
  ' ',
  '\u0000',
  'a\u0000b',
  '\ud800',
  'x\udc00y',
  '\u202egnp.exe',
  '\ufeff',
  '\u2028\u2029',
  'e\u0301'.repeat(60),
  'Z\u0351\u036b\u0343\u036a\u0302'.repeat(40),
  '\u{1F468}\u200d\u{1F469}\u200d\u{1F467}'.repeat(20),
  'İıſKﬁ½',
  '漆'.repeat(400),
  `'; DROP TABLE "Job"; --`,
  `" OR 1=1 --`,
  `') UNION SELECT "passwordHash" FROM "Account" --`,
  '1; SELECT pg_sleep(10)',
  '$1',
  '%',
  '_',
  '%%%',
  '\\',
  "\\' OR ''='",
  ['$', '{7*7}'].join(''),
  '{{7*7}}',
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  '../../../../etc/passwd',
  '..%2f..%2fetc%2fpasswd',
  'file:///etc/passwd',
  '\r\nX-Injected: yes',
  'a\nb\tc\rd',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'null',
  'undefined',
  'NaN',
  '-0',
  '1e999',
  '0x10',
  '٣',
  '9'.repeat(400),
  'a'.repeat(10_000),
  'a'.repeat(200_000),
  `${'('.repeat(50)}a${')+'.repeat(50)}`,
  `${'a'.repeat(100)}!`,
  '=1+1',
];

/** Times where clocks jump, calendars end, or nothing is. Offsets of Berlin: the last Sundays of March and October 2026. */
export const hostileTimes: readonly string[] = [
  '2026-03-29T02:00:00+01:00',
  '2026-03-29T02:30:00+01:00',
  '2026-03-29T02:30:00+02:00',
  '2026-03-29T03:00:00+02:00',
  '2026-10-25T02:30:00+02:00',
  '2026-10-25T02:30:00+01:00',
  '2026-10-25T03:00:00+01:00',
  '2026-03-29T02:30:00',
  '2026-02-29T10:00:00Z',
  '2028-02-29T10:00:00Z',
  '2026-12-31T23:59:60Z',
  '2026-06-30T24:00:00Z',
  '2026-01-01T25:00:00Z',
  '2026-13-01T00:00:00Z',
  '2026-00-10T00:00:00Z',
  '0000-01-01T00:00:00Z',
  '0001-01-01T00:00:00Z',
  '1969-12-31T23:59:59Z',
  '1970-01-01T00:00:00Z',
  '9999-12-31T23:59:59Z',
  '9999-12-31T23:59:59-23:59',
  '+275760-09-13T00:00:00.000Z',
  '+275760-09-13T00:00:00.001Z',
  '-000001-01-01T00:00:00Z',
  '2026-03-02T09:00:00+14:00',
  '2026-03-02T09:00:00-12:00',
  '2026-03-02T09:00:00+99:99',
  '2026-03-02T09:00:00.123456789Z',
  '2026-03-02t09:00:00z',
  '2026-W10-1',
  '1772438400',
  'yesterday',
];

export const hostileDays: readonly string[] = [
  '2026-03-29',
  '2026-10-25',
  '2026-02-29',
  '2028-02-29',
  '2026-02-30',
  '0000-00-00',
  '0001-01-01',
  '9999-12-31',
  '1970-01-01',
  '10000-01-01',
  '2026-3-2',
  '2026-03-02T00:00:00Z',
  '2026-03-03',
];

const numbers: readonly unknown[] = [
  0,
  -1,
  -0,
  1,
  0.5,
  1e308,
  -1e308,
  5e-324,
  2 ** 31,
  2 ** 53,
  -(2 ** 53),
  2 ** 63,
  1e21,
  Number.MAX_SAFE_INTEGER,
];

const structures: readonly (() => unknown)[] = [
  () => null,
  () => true,
  () => false,
  () => [],
  () => ({}),
  () => [[]],
  () => [null],
  () => deepArray(200),
  () => deepArray(1_200),
  () => deepObject(800),
  () => Array.from({ length: 50_000 }, () => 0),
  () => Object.fromEntries(Array.from({ length: 5_000 }, (_, n) => [`k${n}`, n])),
  () => JSON.parse('{"__proto__":{"admin":true}}'),
  () => ({ constructor: { prototype: { admin: true } } }),
  () => ({ toString: 1, valueOf: null, toJSON: 'x' }),
  () => ({ $gt: '' }),
];

/** A value that nobody should send, of any type. */
export function hostileValue(random: SeededRandom): unknown {
  const kind = random.whole(0, 9);
  if (kind < 4) return random.pick(hostileTexts);
  if (kind < 6) return random.pick(random.chance(0.7) ? hostileTimes : hostileDays);
  if (kind < 8) return random.pick(numbers);
  return random.pick(structures)();
}

/** A text that nobody should send. */
export function hostileText(random: SeededRandom): string {
  return random.pick(random.chance(0.7) ? hostileTexts : [...hostileTimes, ...hostileDays]);
}

/** Bodies that are no JSON, or JSON that means two things. */
export const hostileBodies: readonly string[] = [
  '',
  ' ',
  '{',
  '{"a":}',
  '[1,]',
  "{'a':1}",
  'NaN',
  '{"a":NaN}',
  '{"a":1e999}',
  '{"a":1,"a":2}',
  '{"__proto__":{"admin":true}}',
  '{"constructor":{"prototype":{"admin":true}}}',
  '\ufeff{}',
  'null',
  'true',
  '0',
  '"text"',
  '[]',
  '{}',
  '{"a":"\\ud800"}',
  '{"a":"\\u0000"}',
  '['.repeat(50_000),
  `${'{"a":'.repeat(20_000)}1${'}'.repeat(20_000)}`,
  `"${'a'.repeat(1_200_000)}"`,
  '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]><x>&e;</x>',
  'a=b&c=d',
];

export const hostileTypes: readonly string[] = [
  'text/plain',
  'application/xml',
  'application/x-www-form-urlencoded',
  'multipart/form-data; boundary=x',
  'application/json; charset=utf-16',
  'application/json;;;',
  'image/png',
  '/',
  '',
];
