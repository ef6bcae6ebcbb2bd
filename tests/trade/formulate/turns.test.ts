import { describe, expect, it } from 'vitest';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { turnOf, turnsOf } from '../../../src/trade/formulate/turns.ts';
import { JobId } from '../../../src/trade/model/ids.ts';
import { AirZone } from '../../../src/trade/model/shop.ts';
import { aJob } from './a-job.ts';
import { aPlace, smallShop } from './small-shop.ts';

describe('where there is more to choose from than an operation is given', () => {
  it('there are as many turns as leave none with more than its most', () => {
    expect([0, 1, 12, 13, 24, 25, 48, 49].map((count) => turnsOf(count, 12))).toEqual([1, 1, 1, 2, 2, 4, 4, 8]);
  });

  // Known answers: the 32-bit FNV-1a of "a" is e40c292c, of "foobar" bf9cf968 (test vectors of its authors), the upper half folded in.
  it('a job keeps its turn, whatever else is in the book', () => {
    const folded = (hash: number) => (hash ^ (hash >>> 15)) >>> 0;
    expect(turnOf(JobId.parse('a'))).toBe(folded(0xe40c292c));
    expect(turnOf(JobId.parse('foobar'))).toBe(folded(0xbf9cf968));
  });

  it('a thousand jobs spread over eight turns about evenly', () => {
    const count = new Array<number>(8).fill(0);
    for (let k = 0; k < 1000; k++) count[turnOf(JobId.parse(`bench-${k}`)) % 8]!++;
    for (const jobs of count) expect(jobs).toBeGreaterThan(90);
  });
});

describe('a shop with more rooms than a stay chooses from', () => {
  const rooms = Array.from({ length: 30 }, (_, k) => `room${k}`);
  const hall = smallShop().airZones[0]!;
  const shop = smallShop({
    airZones: [hall, ...rooms.map((id) => AirZone.parse({ ...hall, id, name: id }))],
    places: [...smallShop().places, ...rooms.map((id) => aPlace(`wet-${id}`, ['wet'], { airZoneId: id }))],
    jobs: Array.from({ length: 40 }, (_, k) => aJob('small', { id: `job${k}` })),
  });
  const { problem, leftOut } = formulate(shop);
  const wet = problem.places.flatMap(({ name }, place) => (name.startsWith('wet') ? [place] : []));
  const firstStays = problem.jobs.map(({ stays }) => problem.stays[stays[0]!]!.places);

  it('gives each car that is still to come a dozen at most', () => {
    expect(leftOut).toEqual([]);
    for (const places of firstStays) {
      const zones = new Set(places.map((place) => problem.places[place]!.zone));
      expect(zones.size).toBeGreaterThan(0);
      expect(zones.size).toBeLessThanOrEqual(12);
    }
  });

  it('sends cars to every one of them', () => {
    expect(new Set(firstStays.flat())).toEqual(new Set(wet));
  });
});
