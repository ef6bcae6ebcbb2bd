import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { InvalidDocument } from '../../../src/store/contract/errors.ts';
import { rememberedDocument } from '../../../src/store/records/remembered-documents.ts';

const Bay = z.object({ id: z.string(), closed: z.array(z.string()) });
const text = '{"id":"bay1","closed":["2026-03-02"]}';

describe('a document that has been read before', () => {
  it('is the same one while its text is the same, and a new one when it is not', () => {
    const first = rememberedDocument(Bay, text, 'bay a/bay1');
    expect(rememberedDocument(Bay, text, 'bay a/bay1')).toBe(first);
    expect(rememberedDocument(Bay, text.replace('-02"', '-03"'), 'bay a/bay1').closed).toEqual(['2026-03-03']);
    expect(rememberedDocument(Bay, text, 'bay a/bay1')).toEqual(first);
  });

  it('cannot be changed by one reader for the others', () => {
    const bay = rememberedDocument(Bay, text, 'bay a/bay2');
    expect(() => bay.closed.push('2026-03-04')).toThrow(TypeError);
    expect(() => Object.assign(bay, { id: 'other' })).toThrow(TypeError);
  });

  it('is judged anew when its text is damaged, however often', () => {
    rememberedDocument(Bay, text, 'bay a/bay3');
    for (const damaged of ['{"half": ', '{"id":3}']) {
      expect(() => rememberedDocument(Bay, damaged, 'bay a/bay3')).toThrow(InvalidDocument);
      expect(() => rememberedDocument(Bay, damaged, 'bay a/bay3')).toThrow(InvalidDocument);
    }
    expect(rememberedDocument(Bay, text, 'bay a/bay3').id).toBe('bay1');
  });

  it('is read by the model that is asked for, not by the one that read it before', () => {
    rememberedDocument(Bay, text, 'bay a/bay4');
    expect(rememberedDocument(z.object({ id: z.string() }), text, 'bay a/bay4')).toEqual({ id: 'bay1' });
  });

  it('is forgotten when many others have been read since', () => {
    const long = JSON.stringify({ id: 'x'.repeat(3_000_000), closed: [] });
    const first = rememberedDocument(Bay, text, 'bay a/bay5');
    for (let k = 0; k < 3; k++) rememberedDocument(Bay, long, `bay a/long${k}`);
    const again = rememberedDocument(Bay, text, 'bay a/bay5');
    expect(again).not.toBe(first);
    expect(again).toEqual(first);
  });
});
