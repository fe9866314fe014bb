import {find} from '../../src/functions/catalogue';
import {cellsOf, formulaOf, isReference} from '../../src/pane/functions/formula';
import {search} from '../../src/pane/functions/search';

const names = (query: string) => search(query).map(({name}) => name);

describe('search', () => {
  test.each([
    ['dent', 'LOCAL'],
    ['heavy spot', 'TRIALWEIGHT'],
    ['spoke', 'SPOKES'],
    ['flat spot', 'LOCAL'],
    ['date code', 'TIN'],
    ['MATCH', 'MATCH'],
    ['match', 'MATCH'],
    ['oval', 'HARMONICS'],
    ['supplier', 'GROUPRATE'],
  ])('“%s” finds %s first', (query, name) => expect(names(query)[0]).toBe(name));

  test('several words must all occur', () => {
    expect(names('stock masses')).toContain('STOCKPAIR');
    expect(names('zebra')).toEqual([]);
  });

  test('nothing asked gives all', () => expect(search('  ').length).toBeGreaterThan(60));
});

describe('formulas', () => {
  test.each([
    ['A1', true],
    ['B2:Q2', true],
    ['$B$2:$Q$17', true],
    ["'My wheels'!A1:B2", true],
    ['Wheels!C3', true],
    ['1.5', false],
    ['Wheels[A1]', false],
    ['SUM(A1)', false],
    ['A', false],
  ])('%s is a reference: %s', (text, expected) => expect(isReference(text)).toBe(expected));

  test('blanks of readings count as missing, words get quotation marks, the end is left out', () => {
    expect(formulaOf(find('LOCAL')!, ['B2:Q2', '', '', ''])).toBe('=WHEEL.LOCAL(IF(B2:Q2="","",B2:Q2))');
    expect(formulaOf(find('HARMONIC')!, ['B2:Q2', '', 'B1:Q1', 'amount'])).toBe(
      '=WHEEL.HARMONIC(IF(B2:Q2="","",B2:Q2),,B1:Q1,"amount")',
    );
    expect(formulaOf(find('TIRESIZE')!, ['205/55R16 91V', '2'])).toBe('=WHEEL.TIRESIZE("205/55R16 91V",2)');
    expect(formulaOf(find('TIRESIZE')!, ['say "x"', ''])).toBe('=WHEEL.TIRESIZE("say ""x""")');
    expect(formulaOf(find('MATCH')!, ['{0.8,40}', 'E2:F2', '"turn"'])).toBe('=WHEEL.MATCH({0.8,40},E2:F2,"turn")');
    expect(formulaOf(find('EDITION')!, [])).toBe('=WHEEL.EDITION()');
  });

  const read = async (reference: string) => ({'B2:D2': [[1, '', 3]], A1: [['']]})[reference]!;

  test('cells arrive as Excel hands them over: blanks as 0, but missing among readings', async () => {
    expect(await cellsOf(find('LOCAL')!, ['B2:D2', '2', '', ''], read)).toEqual([[[1, '', 3]], 2, null, null]);
    expect(await cellsOf(find('STOCK')!, ['A1', '5', ''], read)).toEqual([[[0]], 5, null]);
  });

  test('literals: numbers, words, TRUE, array constants', async () => {
    expect(await cellsOf(find('MATCH')!, ['{0.8,40}', '{0.6,-100}', 'turn'], read)).toEqual([
      [[0.8, 40]],
      [[0.6, -100]],
      'turn',
    ]);
    expect(await cellsOf(find('CLOCK')!, ['90', 'FALSE'], read)).toEqual([90, false]);
    expect(await cellsOf(find('TIRESIZE')!, ['205/55R16 91V', ''], read)).toEqual(['205/55R16 91V', null]);
    expect(await cellsOf(find('PLACE')!, ['{1;2}', '{3;4}', '', '', ''], read)).toEqual([
      [[1], [2]],
      [[3], [4]],
      null,
      null,
      null,
    ]);
  });

  test('what only Excel can work out is not guessed', async () => {
    expect(await cellsOf(find('STOCK')!, ['A1*2', '5', ''], read)).toBeUndefined();
    expect(await cellsOf(find('MATCH')!, ['Wheels[[R]:[A]]', 'A1', ''], read)).toBeUndefined();
  });
});
