import { expect, test } from 'vitest';
import { changedBook } from '../../../src/shop/owner-what-ifs/changed-book.ts';
import { emptyBook } from './a-car-that-came.ts';

const tightest = { bay: 'bay1', person: 'cedar' };

test('another bay does all the tightest one does, and nothing stands before it', () => {
  const changed = changedBook(emptyBook, 'bay', tightest);
  const [like, another] = ['bay1', 'whatIfBay'].map((id) => changed?.book.places.find((place) => place.id === id));
  expect(changed?.like).toBe('Bay 1, wet');
  expect(changed?.book.places).toHaveLength(emptyBook.places.length + 1);
  expect(another).toEqual({ ...like, id: 'whatIfBay', name: 'another Bay 1, wet' });
});

test('another person has the hours, skills and certificates of the busiest', () => {
  const changed = changedBook(emptyBook, 'person', tightest);
  const another = changed?.book.technicians.find((each) => each.id === 'whatIfPerson');
  const like = emptyBook.technicians.find((each) => each.id === 'cedar');
  expect(another).toMatchObject({ skills: like?.skills, shifts: like?.shifts, certificates: like?.certificates });
});

test('one more lamp is one more, and the first where there was none', () => {
  const lamps = (book = emptyBook) =>
    changedBook(book, 'lamp', tightest)
      ?.book.equipment.filter(({ kind }) => kind === 'infraRedLamp')
      .map(({ count }) => count);
  expect(lamps()).toEqual([3]);
  expect(lamps({ ...emptyBook, equipment: [] })).toEqual([1]);
});

test('a long Saturday is a Friday for the shop and for whoever works on Fridays', () => {
  const changed = changedBook(emptyBook, 'saturday', tightest);
  expect(changed?.like).toBe('08:00–18:30');
  expect(changed?.book.shop.hours.saturday).toEqual(emptyBook.shop.hours.friday);
  for (const person of changed?.book.technicians ?? []) {
    if (person.shifts.friday?.length) expect(person.shifts.saturday).toEqual(person.shifts.friday);
  }
});

test('where Saturdays are as long already, and where there is nobody to copy, nothing changes', () => {
  const { hours } = emptyBook.shop;
  const long = { ...emptyBook, shop: { ...emptyBook.shop, hours: { ...hours, saturday: hours.friday } } };
  expect(changedBook(long, 'saturday', tightest)).toBeNull();
  expect(changedBook(emptyBook, 'person', { bay: null, person: null })).toBeNull();
});
