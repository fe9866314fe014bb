import {tin} from '../../src/maths/tin';
import {refusal} from '../support/formula';

const date = (serial: number | undefined): string | undefined =>
  serial === undefined ? undefined : new Date(Date.UTC(1899, 11, 30 + serial)).toISOString().slice(0, 10);

test.each<[string, string, string, number, number | undefined, string | undefined]>([
  // text, plant, code, week, year, first day
  ['DOT 1HD 2A 021X 1225', '1HD', '2A021X', 12, 2025, '2025-03-23'],
  ['1HD2A021X1225', '1HD', '2A021X', 12, 2025, '2025-03-23'],
  ['dot 9xab cdef 0198', '9X', 'ABCDEF', 1, 1998, '1998-01-04'],
  ['9XAB-CDEF-0110', '9X', 'ABCDEF', 1, 2010, '2010-01-03'],
  ['9XAB0100', '9X', 'AB', 1, 2000, '2000-01-02'],
  // 2017 begins on a Sunday: that week is the first full one, and there are 53 of them.
  ['9XAB0117', '9X', 'AB', 1, 2017, '2017-01-01'],
  ['9XAB5317', '9X', 'AB', 53, 2017, '2017-12-31'],
  ['9XAB5290', '9X', 'AB', 52, 1990, '1990-12-30'],
  ['9XAB5289', '9X', 'AB', 52, 2089, '2089-12-25'],
  // A retread: three symbols and the date.
  ['9XA2524', '9XA', '', 25, 2024, '2024-06-23'],
  // Three digits leave the decade open.
  ['9XABCDE257', '9X', 'ABCDE', 25, undefined, undefined],
  ['9XABC257', '9X', 'ABC', 25, undefined, undefined],
])('%s', (text, plant, code, week, year, sunday) => {
  const found = tin(text);
  expect([found.plant, found.code, found.week, found.year, date(found.sunday)]).toEqual([
    plant,
    code,
    week,
    year,
    sunday,
  ]);
  expect(found.plant + found.code).toBe(found.symbols.slice(0, found.symbols.length - found.dateDigits));
});

test('every first day is a Sunday, and week 1 is the first full week of its year', () => {
  for (let year = 2000; year < 2090; year++) {
    const first = tin(`9XAB01${String(year % 100).padStart(2, '0')}`).sunday!;
    const day = new Date(Date.UTC(1899, 11, 30 + first));
    expect([day.getUTCDay(), day.getUTCFullYear(), day.getUTCMonth()]).toEqual([0, year, 0]);
    expect(day.getUTCDate()).toBeLessThanOrEqual(7);
    expect(tin(`9XAB30${String(year % 100).padStart(2, '0')}`).sunday).toBe(first + 29 * 7);
  }
});

test.each([
  ['9XAB5316', 'text: 2016 has no week 53'],
  ['9XAB0025', 'text: the last four symbols must be week (01 to 53) and year, found "0025"'],
  ['9XAB5425', 'text: the last four symbols must be week (01 to 53) and year, found "5425"'],
  ['9XABCDEFHJKLM', 'text: the last four symbols must be week (01 to 53) and year, found "JKLM"'],
  // Thirteen symbols always have four digits.
  ['1HD2A021XA122', 'text: the last four symbols must be week (01 to 53) and year, found "A122"'],
  ['9XA257', 'text: 13 symbols, 7 to 12 on older tires and retreads, are wanted, found 6'],
  ['1HD2A021XX12255', 'text: 13 symbols, 7 to 12 on older tires and retreads, are wanted, found 15'],
  ['9XOB2524', 'text: "O" is no symbol of a tire identification number (is it the digit 0?)'],
  ['9XIB2524', 'text: "I" is no symbol of a tire identification number (is it the digit 1?)'],
  ['9XGB2524', 'text: "G" is no symbol of a tire identification number'],
  ['9XÄB2524', 'text: "Ä" is no symbol of a tire identification number'],
  ['DOT', 'text: a tire identification number is wanted, found no symbols'],
])('%s is refused', (text, message) => {
  expect(refusal('TIN', text).message).toBe(message);
  expect(refusal('TIN', text).reason).toBe('invalid');
});

test('an open decade is said, not guessed', () => {
  expect(refusal('TIN', '9XABCDE257', 'year').message).toBe('a date of three digits leaves the decade open');
  expect(refusal('TIN', '9XABCDE257', 'sunday').reason).toBe('unavailable');
});

test('DOT is taken off where it begins, and nowhere else', () => {
  for (const text of ['1HD DOT 2A021X 1225', 'XDOT 1HD2A021X1225']) {
    expect(refusal('TIN', text).message).toMatch(/^text: "O" is no symbol/);
  }
});

test('three digits of a date: up to 11 symbols; with 7 they are no retread', () => {
  expect(tin('9XABCDEF257')).toMatchObject({plant: '9X', code: 'ABCDEF', week: 25, dateDigits: 3});
  expect(tin('9XAB257')).toMatchObject({plant: '9X', code: 'AB', week: 25, dateDigits: 3});
  expect(refusal('TIN', '9XABCDEFH257').message).toMatch(/must be week \(01 to 53\) and year, found "H257"$/);
});
