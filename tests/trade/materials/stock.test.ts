import { describe, expect, it } from 'vitest';
import { stockSuffices } from '../../../src/trade/materials/stock.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { sheet } from '../data-sheets.ts';

const at = Date.UTC(2026, 5, 10, 12) as Instant;
const day = '2026-06-10';
const bottle = (millilitresLeft: number, expiresOn = '2027-01-01', openedAt: Instant | null = null) => ({
  millilitresLeft,
  expiresOn,
  openedAt,
});
const coating = (...stock: ReturnType<typeof bottle>[]) => ({ name: 'Coat (invented)', dataSheet: sheet, stock });

describe('the stock of a coating', () => {
  it('suffices when bottles in date hold enough', () => {
    expect(stockSuffices(coating(bottle(50), bottle(20)), 70, at, day).suffices).toBe(true);
    expect(stockSuffices(coating(bottle(50), bottle(19)), 70, at, day).suffices).toBe(false);
  });

  it('counts a bottle on its last day and not after', () => {
    expect(stockSuffices(coating(bottle(50, day)), 50, at, day).suffices).toBe(true);
    expect(stockSuffices(coating(bottle(50, '2026-06-09')), 50, at, day).suffices).toBe(false);
  });

  it('counts an opened bottle only within its life', () => {
    const openedAgo = (minutes: number) => (at - minutes * 60_000) as Instant;
    const life = sheet.openBottleMinutes;
    expect(stockSuffices(coating(bottle(50, '2027-01-01', openedAgo(life - 1))), 50, at, day).suffices).toBe(true);
    expect(stockSuffices(coating(bottle(50, '2027-01-01', openedAgo(life))), 50, at, day).suffices).toBe(false);
  });

  it('leaves what other jobs have booked, and says so', () => {
    const verdict = stockSuffices(coating(bottle(50), bottle(50)), 40, at, day, 70);
    expect(verdict).toEqual({
      suffices: false,
      usableMillilitres: 30,
      text: 'Coat (invented): 40 ml needed, 30 ml usable on 2026-06-10 (70 ml of 100 ml booked by other jobs)',
    });
  });
});
