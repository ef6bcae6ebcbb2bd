import { describe, expect, it } from 'vitest';
import { readFloor } from '../../../src/trade/formulate/floor-record.ts';
import { at, floor } from './a-job.ts';

const now = at('2026-06-01T12:00Z');

describe('what the floor has recorded', () => {
  it('is read in the order it happened, whatever the order it came in', () => {
    const events = floor(
      ['2026-06-01T06:00Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
      ['2026-06-01T07:00Z', { kind: 'finished', operation: 'wash' }],
    );
    const { work } = readFloor([...events].reverse(), now);
    expect(work.get('wash')).toEqual({
      state: 'finished',
      pieces: [{ from: at('2026-06-01T06:00Z'), to: at('2026-06-01T07:00Z'), by: ['bo'] }],
      handedTo: null,
    });
  });

  it('counts an event that a device sends twice once', () => {
    const [started] = floor(['2026-06-01T06:00Z', { kind: 'started', operation: 'wash', by: ['bo'] }]);
    expect(readFloor([started!, started!], now).work.get('wash')!.pieces).toHaveLength(1);
  });

  it('keeps an interruption as two pieces, and who goes on with the remainder under the operation itself', () => {
    const { work } = readFloor(
      floor(
        ['2026-06-01T06:00Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
        ['2026-06-01T06:20Z', { kind: 'interrupted', operation: 'wash', reason: 'power cut' }],
        ['2026-06-01T07:00Z', { kind: 'resumed', operation: 'wash.rest' }],
      ),
      now,
    );
    expect([...work.keys()]).toEqual(['wash']);
    expect(work.get('wash')!.state).toBe('underWay');
    expect(work.get('wash')!.pieces).toEqual([
      { from: at('2026-06-01T06:00Z'), to: at('2026-06-01T06:20Z'), by: ['bo'] },
      { from: at('2026-06-01T07:00Z'), to: null, by: ['bo'] },
    ]);
  });

  it('gives work handed over to the next person from that minute on', () => {
    const { work } = readFloor(
      floor(
        ['2026-06-01T06:00Z', { kind: 'started', operation: 'wash', by: ['bo'] }],
        ['2026-06-01T06:30Z', { kind: 'handedOver', operation: 'wash', to: ['ada'] }],
      ),
      now,
    );
    expect(work.get('wash')!.pieces.map(({ by }) => by)).toEqual([['bo'], ['ada']]);
  });

  it('reads an end without a start as work done by then', () => {
    const { work } = readFloor(floor(['2026-06-01T06:30Z', { kind: 'finished', operation: 'wash' }]), now);
    expect(work.get('wash')).toMatchObject({ state: 'finished', pieces: [{ from: at('2026-06-01T06:30Z') }] });
  });

  it('counts an event from a clock that is ahead as now', () => {
    const { visits } = readFloor(floor(['2026-06-01T12:05Z', { kind: 'arrived', placeId: 'wetBay' }]), now);
    expect(visits).toEqual([{ placeId: 'wetBay', from: now }]);
  });
});
