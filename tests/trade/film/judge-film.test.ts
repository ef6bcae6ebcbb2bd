import { describe, expect, it } from 'vitest';
import { judgeFilm } from '../../../src/trade/film/judge-film.ts';
import { FilmReading } from '../../../src/trade/model/condition.ts';

const reading = (panel: string, micrometres: number, gaugeErrorMicrometres = 2) =>
  FilmReading.parse({ panel, micrometres, gaugeErrorMicrometres, at: 0 });
const twoPasses = { compound: 2, finish: 1 };

// Common practice: a gauge errs by 2 to 3 micrometres, a compounding pass cuts 1 to 3.
describe('a cut', () => {
  it("that could go below the shop's floor is refused with panel and figures", () => {
    const { refusals } = judgeFilm(80, [reading('roof', 88)], { roof: twoPasses });
    // 88 - 2 gauge error - 2 x 3 compounding - 1 finishing = 79.
    expect(refusals).toHaveLength(1);
    expect(refusals[0]).toMatchObject({
      panel: 'roof',
      measuredMicrometres: 88,
      cutMicrometres: 7,
      leftMicrometres: 79,
    });
    expect(refusals[0]!.text).toContain('roof reads 88 ± 2 µm');
    expect(refusals[0]!.text).toContain('below the floor of 80 µm');
  });

  it('that leaves exactly the floor is allowed', () => {
    expect(judgeFilm(80, [reading('roof', 89)], { roof: twoPasses }).refusals).toEqual([]);
  });

  it("is judged by the thinnest reading of the panel, the gauge's error counted", () => {
    const readings = [reading('roof', 120), reading('roof', 90, 4), reading('roof', 89, 1)];
    expect(judgeFilm(80, readings, { roof: twoPasses }).refusals[0]).toMatchObject({
      measuredMicrometres: 90,
      leftMicrometres: 79,
    });
  });

  it('on plastic or an unmeasured panel is for the lead to decide', () => {
    const verdict = judgeFilm(80, [reading('frontBumper', 500)], { frontBumper: twoPasses, roof: twoPasses });
    expect(verdict.refusals).toEqual([]);
    expect(verdict.leadDecides.map((one) => one.panel)).toEqual(['roof', 'frontBumper']);
  });

  it('of no passes is not judged', () => {
    expect(judgeFilm(80, [], { roof: { compound: 0, finish: 0 } })).toEqual({ refusals: [], leadDecides: [] });
  });
});
