import { describe, expect, it } from 'vitest';
import type { Releases } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { Wish } from '../../../src/trade/model/job.ts';
import { aJob, at, floor } from './a-job.ts';
import { reader, smallShop } from './small-shop.ts';

const now = at('2026-06-01T06:00Z');

function wish(given: object): Wish {
  const nothing = { placeId: null, startAt: null, notBefore: null, personId: null };
  return Wish.parse({ ...nothing, madeAt: now, planBefore: 1, ...given });
}

function formulated(wishes: readonly Wish[], given: object = {}, releases: Releases = {}, job: object = {}) {
  const formulation = formulate(smallShop({ now, jobs: [aJob('small', { wishes, ...job })], ...given }), releases);
  expect(formulation.leftOut).toEqual([]);
  return { formulation, notices: formulation.notices.map(({ kind }) => kind), ...reader(formulation) };
}

describe('a wish of the desk', () => {
  it('freezes the start of its operation to the minute', () => {
    const { operation, iso } = formulated([wish({ operation: 'wash', startAt: at('2026-06-02T09:30Z') })]);
    expect(operation('wash').fixed).toMatchObject({ by: 'frozen' });
    expect(iso(operation('wash').fixed!.start)).toBe('2026-06-02T09:30');
  });

  it('with a bound keeps the operation from starting sooner, no more', () => {
    const { operation, minute } = formulated([wish({ operation: 'wash', notBefore: at('2026-06-02T09:30Z') })]);
    expect(operation('wash').fixed).toBeUndefined();
    expect(operation('wash').release).toBe(minute('2026-06-02T09:30Z'));
  });

  it('for an hour that has passed binds nobody any more', () => {
    const { operation, notices } = formulated([wish({ operation: 'wash', startAt: at('2026-06-01T05:00Z') })]);
    expect(operation('wash').fixed).toBeUndefined();
    expect(notices).toEqual([]);
  });

  it('ends when its work begins', () => {
    const events = floor(
      ['2026-06-01T05:10Z', { kind: 'arrived', placeId: 'wetBay' }],
      ['2026-06-01T05:12Z', { kind: 'started', operation: 'intake', by: ['ada'] }],
    );
    const startAt = at('2026-06-02T09:30Z');
    const { operation } = formulated([wish({ operation: 'intake', startAt })], { events }, {}, { state: 'inShop' });
    expect(operation('intake').fixed).toMatchObject({ by: 'fact' });
  });

  it('for a place that cannot do the work is passed over, and the desk is told what it lacks', () => {
    const { formulation, notices } = formulated([wish({ operation: 'wash', placeId: 'space' })]);
    expect(notices).toEqual(['wishNotKept']);
    expect(formulation.notices[0]!.text).toMatch(/has no floor for wet work/);
  });

  it('that is released is as if it had not been', () => {
    const wishes = [wish({ operation: 'wash', startAt: at('2026-06-02T09:30Z') })];
    const { operation } = formulated(wishes, {}, { wishesOf: new Set([aJob('small').id]) });
    expect(operation('wash').fixed).toBeUndefined();
  });
});
