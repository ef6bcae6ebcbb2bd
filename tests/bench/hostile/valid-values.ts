import type { SeededRandom } from '../../engine/random/seeded-random.ts';
import type { JsonSchema } from './document.ts';

/** Names of things that are there, by the name of the field that refers to one. */
export type Known = Readonly<Record<string, readonly string[]>>;

const DEEPEST = 12;
const MORE_ITEMS = 3;

/** Makes values that fit a schema, and refer to things that are there where a field's name says what it refers to. */
export class ValidValues {
  readonly #random: SeededRandom;
  readonly #schemas: Readonly<Record<string, JsonSchema>>;
  readonly #known: Known;
  /** Times lie around this one. */
  readonly #now: number;

  constructor(random: SeededRandom, schemas: Readonly<Record<string, JsonSchema>>, known: Known, now: number) {
    this.#random = random;
    this.#schemas = schemas;
    this.#known = known;
    this.#now = now;
  }

  /** Whether things of a kind are known by its name. */
  knows(kind: string | undefined): kind is string {
    return kind !== undefined && this.#known[kind] !== undefined;
  }

  of(schema: JsonSchema, name = '', depth = 0): unknown {
    const random = this.#random;
    if (schema.$ref !== undefined) return this.of(this.#schemas[schema.$ref.split('/').at(-1)!] ?? {}, name, depth);
    if (schema.const !== undefined) return schema.const;
    if (schema.enum !== undefined) return random.pick(schema.enum);
    const choices = schema.anyOf ?? schema.oneOf;
    if (choices !== undefined) return this.of(random.pick(choices), name, depth + 1);
    if (schema.allOf !== undefined) {
      return Object.assign({}, ...schema.allOf.map((part) => this.of(part, name, depth + 1)));
    }
    const type = Array.isArray(schema.type) ? random.pick(schema.type) : schema.type;
    switch (type) {
      case 'object':
        return this.#object(schema, depth);
      case 'array':
        return this.#array(schema, name, depth);
      case 'string':
        return this.#text(schema, name);
      case 'integer':
      case 'number':
        return this.#number(schema, type);
      case 'boolean':
        return random.chance(0.5);
      case 'null':
        return null;
      default:
        return 'anything';
    }
  }

  #object(schema: JsonSchema, depth: number): Record<string, unknown> {
    const value: Record<string, unknown> = {};
    for (const [key, part] of Object.entries(schema.properties ?? {})) {
      const needed = schema.required?.includes(key) ?? false;
      if (needed || (depth < DEEPEST && this.#random.chance(0.4))) value[key] = this.of(part, key, depth + 1);
    }
    const names = schema.propertyNames?.enum as readonly string[] | undefined;
    if (names !== undefined && typeof schema.additionalProperties === 'object') {
      for (const key of this.#random.some(names, 0)) value[key] = this.of(schema.additionalProperties, key, depth + 1);
    }
    return value;
  }

  #array(schema: JsonSchema, name: string, depth: number): unknown[] {
    if (schema.prefixItems !== undefined) return schema.prefixItems.map((part) => this.of(part, name, depth + 1));
    const least = schema.minItems ?? 0;
    const most = depth >= DEEPEST ? least : Math.min(schema.maxItems ?? least + MORE_ITEMS, least + MORE_ITEMS);
    return Array.from({ length: this.#random.whole(least, most) }, () => this.of(schema.items ?? {}, name, depth + 1));
  }

  #number({ minimum, maximum, exclusiveMinimum }: JsonSchema, type: string): number {
    const least = minimum ?? (exclusiveMinimum === undefined ? 0 : exclusiveMinimum + 1);
    const most = Math.min(maximum ?? least + 1_000, least + 1_000);
    const whole = this.#random.whole(Math.ceil(least), Math.max(Math.ceil(least), Math.floor(most)));
    return type === 'integer' || this.#random.chance(0.5) ? whole : Math.min(most, whole + 0.25);
  }

  #text(schema: JsonSchema, name: string): string {
    const random = this.#random;
    const known = this.#known[name];
    if (known !== undefined && known.length > 0 && random.chance(0.95)) return random.pick(known);
    if (schema.format === 'date-time') return this.#time();
    if (schema.format === 'date') return this.#time().slice(0, 10);
    if (schema.format === 'email') return `person${random.whole(1, 99)}@example.invalid`;
    if (schema.pattern?.includes('24:00'))
      return `${String(random.whole(6, 19)).padStart(2, '0')}:${random.pick(['00', '30'])}`;
    if (schema.pattern?.includes('\\d{4}-') || schema.pattern?.includes('(?:\\d\\d')) return this.#time().slice(0, 10);
    const length = Math.min(Math.max(schema.minLength ?? 1, random.whole(8, 16)), schema.maxLength ?? 64);
    return Array.from({ length }, () => random.pick([...'abcdefghijklmnopqrstuvwxyz0123456789'])).join('');
  }

  /** A quarter of an hour within some weeks, mostly of the next ones. */
  #time(): string {
    const quarters = this.#random.whole(-4 * 24 * 7, 4 * 24 * 28);
    return new Date(this.#now + quarters * 15 * 60_000).toISOString().replace('.000Z', 'Z');
  }
}
