import { expect, test } from 'vitest';
import { panelInWords } from '../../../src/trade/model/panel-in-words.ts';
import { PanelName } from '../../../src/trade/model/vehicle.ts';

test('a panel is told in words and not by its key', () => {
  expect(panelInWords('bonnet')).toBe('bonnet');
  expect(panelInWords('bootLid')).toBe('boot lid');
  expect(panelInWords('leftFrontWing')).toBe('left front wing');
  for (const panel of PanelName.options) expect(panelInWords(panel)).toMatch(/^[a-z]+( [a-z]+)*$/);
});
