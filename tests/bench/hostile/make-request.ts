import type { SeededRandom } from '../../engine/random/seeded-random.ts';
import type { Operation, Parameter } from './document.ts';
import { hostileBodies, hostileText, hostileTypes, hostileValue } from './hostile-values.ts';
import type { ValidValues } from './valid-values.ts';

export interface Asked {
  readonly operation: Operation;
  readonly method: string;
  /** Path and query. */
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: string | Buffer;
  /** Whether everything in it fits the document. */
  readonly meant: 'valid' | 'hostile';
}

const SMALLEST_PNG = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);

/** A request for an operation; a hostile one has at least one part that nobody should send. */
export function makeRequest(operation: Operation, values: ValidValues, random: SeededRandom, hostile: boolean): Asked {
  const spoilt = hostile ? partToSpoil(operation, random) : 'nothing';
  const of = (parameter: Parameter) => {
    // An `id` is of the kind that the part before it names.
    const kind =
      parameter.in === 'path' ? new RegExp(`([\\w-]+)/\\{${parameter.name}\\}`).exec(operation.path)?.[1] : undefined;
    return String(values.of(parameter.schema ?? { type: 'string' }, values.knows(kind) ? kind : parameter.name));
  };
  let path = operation.path;
  const query = new URLSearchParams();
  const headers: Record<string, string> = {};
  for (const parameter of operation.parameters) {
    const { name } = parameter;
    if (parameter.in === 'path') {
      const bad = spoilt === 'path' && random.chance(0.7);
      path = path.replace(
        `{${name}}`,
        encodeURIComponent(wellFormed(bad ? hostileText(random) : of(parameter))).slice(0, 3_000),
      );
    } else if (parameter.in === 'query') {
      if (spoilt === 'query' && random.chance(0.6)) {
        for (let n = random.whole(1, 2); n > 0; n -= 1)
          query.append(name, wellFormed(hostileText(random)).slice(0, 3_000));
      } else if (parameter.required || random.chance(0.4)) query.append(name, of(parameter));
    } else if (parameter.in === 'header') {
      const bad = spoilt === 'header' && random.chance(0.7);
      headers[name] = bad ? asHeader(hostileText(random)) : headerOf(name, of(parameter), random);
    }
  }
  if (spoilt === 'query') query.append(random.pick(['unknown', '__proto__', 'constructor[prototype]', 'a[]']), 'x');
  if (spoilt === 'header')
    headers[random.pick(['x-request-id', 'if-none-match', 'accept', 'authorization', 'cookie'])] = asHeader(
      hostileText(random),
    );
  const asked = { operation, method: operation.method, meant: hostile ? 'hostile' : 'valid' } as const;
  const url = `${path}${query.size > 0 ? `?${query}` : ''}`;
  if (operation.body === undefined) return { ...asked, url, headers };
  const id = /\{id\}$/.test(operation.path) ? decoded(path.split('/').at(-1)!) : null;
  const { body, type } = bodyOf(operation, values, random, spoilt, id);
  return { ...asked, url, headers: { ...headers, 'content-type': type }, body };
}

/** A part that was cut within an escape stays as it is. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

type Part = 'path' | 'query' | 'header' | 'body' | 'bytes' | 'type' | 'nothing';

function partToSpoil(operation: Operation, random: SeededRandom): Part {
  const parts: Part[] = ['header', 'query'];
  if (operation.path.includes('{')) parts.push('path');
  if (operation.body !== undefined) parts.push('body', 'body', 'body', 'bytes', 'type');
  return random.pick(parts);
}

function headerOf(name: string, made: string, random: SeededRandom): string {
  if (name.toLowerCase() === 'idempotency-key') return `key-${random.whole(0, 2 ** 31)}-${random.whole(0, 2 ** 31)}`;
  if (name.toLowerCase() === 'if-match') return random.chance(0.9) ? '*' : '"1"';
  return asHeader(made);
}

/** Node sends nothing else in a header; what it refuses to send no server gets from it. */
function asHeader(text: string): string {
  return text.replace(/[^\x20-\x7e\xa0-\xff]/g, '?').slice(0, 4_000);
}

/** An address can hold no half of a surrogate pair. */
function wellFormed(text: string): string {
  return Buffer.from(text).toString('utf8');
}

function bodyOf(operation: Operation, values: ValidValues, random: SeededRandom, spoilt: Part, id: string | null) {
  const { type, schema } = operation.body!;
  const isJson = type.includes('json');
  const bytes = () => Buffer.from(Array.from({ length: random.whole(0, 300) }, () => random.whole(0, 255)));
  if (spoilt === 'bytes') return { body: random.chance(0.2) ? bytes() : random.pick(hostileBodies), type };
  if (!isJson) {
    const text = type.includes('csv') ? 'drop_off,customer\n2026-03-03 09:00,Invented' : '';
    const good = type.startsWith('image/') ? SMALLEST_PNG : text;
    return { body: spoilt === 'body' ? bytes() : good, type: type.startsWith('image/') ? 'image/png' : type };
  }
  const made = values.of(schema);
  const value = id !== null && typeof made === 'object' ? { ...made, id } : made;
  if (spoilt === 'type') return { body: JSON.stringify(value), type: random.pick(hostileTypes) };
  return { body: JSON.stringify(spoilt === 'body' ? spoil(value, random) : value), type };
}

/** A value with one to three of its parts replaced, dropped or added to, wherever they lie. */
export function spoil(value: unknown, random: SeededRandom): unknown {
  let spoilt = value;
  for (let n = random.whole(1, 3); n > 0; n -= 1) spoilt = spoilOnce(spoilt, random);
  return spoilt;
}

function spoilOnce(value: unknown, random: SeededRandom): unknown {
  if (typeof value !== 'object' || value === null || random.chance(0.15)) return hostileValue(random);
  if (Array.isArray(value)) {
    if (value.length === 0 || value.length > 1_000) return hostileValue(random);
    const at = random.whole(0, value.length - 1);
    return value.with(at, spoilOnce(value[at], random));
  }
  const entries = Object.entries(value);
  if (entries.length === 0 || entries.length > 1_000 || random.chance(0.1))
    return { ...value, unknown: hostileValue(random) };
  const [key, part] = random.pick(entries);
  if (random.chance(0.1)) return Object.fromEntries(entries.filter(([other]) => other !== key));
  return { ...value, [key]: spoilOnce(part, random) };
}
