import { describe, expect, it } from 'vitest';
import { ConfigurationError, readConfiguration } from '../src/configuration.ts';

describe('configuration', () => {
  it('needs no setting at all: SQLite in a file, on this machine only', () => {
    const configuration = readConfiguration({});
    expect(configuration.DATABASE_URL).toBe('file:./data/panelday.db');
    expect(configuration.HOST).toBe('127.0.0.1');
    expect(configuration.PORT).toBe(3000);
  });

  it.each([
    ['PORT', '70000'],
    ['PORT', 'ninety'],
    ['DATABASE_URL', 'mysql://somewhere/else'],
    ['LOG_LEVEL', 'loud'],
    ['DEMO_SHOP', 'maybe'],
    ['PLAN_BUDGET_MS', '1'],
  ])('a wrong %s stops the start and is named', (name, value) => {
    expect(() => readConfiguration({ [name]: value })).toThrow(ConfigurationError);
    expect(() => readConfiguration({ [name]: value })).toThrow(new RegExp(`${name}="${value.replaceAll('/', '\\/')}"`));
  });

  it('names every wrong variable at once', () => {
    expect(() => readConfiguration({ PORT: 'x', LOG_LEVEL: 'y' })).toThrow(/PORT[\s\S]*LOG_LEVEL/);
  });

  it('reads the names it is served under as a list', () => {
    expect(readConfiguration({ SERVER_NAMES: 'shop.example, www.shop.example' }).SERVER_NAMES).toEqual([
      'shop.example',
      'www.shop.example',
    ]);
    expect(readConfiguration({}).SERVER_NAMES).toEqual([]);
  });

  it('takes an empty value for one that is not set', () => {
    expect(readConfiguration({ PORT: '' }).PORT).toBe(3000);
  });
});
