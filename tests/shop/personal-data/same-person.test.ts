import { describe, expect, test } from 'vitest';
import { isSamePerson } from '../../../src/shop/personal-data/same-person.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import { car } from '../../api/a-planned-car.ts';

function brought(name: string, phone: string, email: string, registration: string, more: Partial<Job> = {}): Job {
  return { ...car, customer: { name, phone, email }, vehicle: { ...car.vehicle, registration }, ...more };
}

describe('two bookings are of one person', () => {
  test('when they share an e-mail address or a telephone number, however it is written', () => {
    const one = brought('Ivo Invented', '+00 555-0100', 'Ivo@example.invalid', 'A 1');
    expect(isSamePerson(one, brought('I. Invented', '', 'ivo@EXAMPLE.invalid', ''))).toBe(true);
    expect(isSamePerson(one, brought('I. Invented', '+00 (555) 0100', '', ''))).toBe(true);
    expect(isSamePerson(one, brought('I. Invented', '+00 555 0101', 'other@example.invalid', ''))).toBe(false);
  });

  test('when name and registration are the same; either alone is not enough', () => {
    const one = brought('Ivo Invented', '', '', 'KX 12-AB');
    expect(isSamePerson(one, brought('ivo invented', '', '', 'kx12ab'))).toBe(true);
    expect(isSamePerson(one, brought('Ivo Invented', '', '', 'OTHER 1'))).toBe(false);
    expect(isSamePerson(one, brought('Who bought the car', '', '', 'KX 12-AB'))).toBe(false);
  });

  test('and never because both leave the same things empty, or have a number of a few figures', () => {
    expect(isSamePerson(brought('One Invented', '', '', ''), brought('Two Invented', '', '', ''))).toBe(false);
    expect(isSamePerson(brought('Same Invented', '12', '', ''), brought('Other Invented', '12', '', ''))).toBe(false);
  });

  test('once erased, a booking is nobody’s', () => {
    const one = brought('Ivo Invented', '', 'ivo@example.invalid', '');
    expect(isSamePerson(one, { ...one, erasedAt: car.createdAt })).toBe(false);
  });
});
