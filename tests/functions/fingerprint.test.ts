import {createHash} from 'node:crypto';
import {call, refusal} from '../support/formula';

const sha = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex').slice(0, 16);
const of = (...args: unknown[]) => call('FINGERPRINT', ...args)[0][0];

const record = [
  ['J-401', 'LF', 0.46, true],
  ['', null, -3, 'é'],
];
const json = '[["J-401","LF",0.46,true],[null,null,-3,"é"]]';

test('is SHA-256 of the JSON of the rows, by another implementation', () => {
  expect(of(record)).toBe(sha(json));
  expect(of([[1]])).toBe(sha('[[1]]'));
  expect(of('alone')).toBe(sha('[["alone"]]'));
});

test('is chained by the previous one', () => {
  const first = of(record) as string;
  expect(of([[1]], first)).toBe(sha('[[1]]' + first));
  expect(of([[1]], first.toUpperCase())).toBe(of([[1]], first));
  // No record before: left out, empty, or a blank cell as Excel hands it over.
  for (const none of [null, '', 0]) expect(of([[1]], none)).toBe(of([[1]]));
});

test('does not depend on how a value was typed or computed', () => {
  expect(of([[0.1 + 0.2]])).toBe(of([[0.3]]));
  expect(of([[-0]])).toBe(of([[0]]));
  expect(of([['e\u0301']])).toBe(of([['é']]));
  expect(of([['']])).toBe(of([[null]]));
});

test('changes with every change', () => {
  const all = [
    [[0.3]],
    [[0.300000000001]],
    [['0.3']],
    [[true]],
    [['TRUE']],
    [[0]],
    [['']],
    [[0.3, '']],
    [[0.3], ['']],
  ].map((range) => of(range));
  expect(new Set(all).size).toBe(all.length);
});

describe('signed', () => {
  const now = of(record) as string;

  test('tells whether the record is still the one that was signed', () => {
    expect(call('FINGERPRINT', record, null, now)).toEqual([[true]]);
    expect(call('FINGERPRINT', record, null, ` ${now.toUpperCase()} `)).toEqual([[true]]);
    expect(call('FINGERPRINT', [[1]], null, now)).toEqual([[false]]);
    expect(call('FINGERPRINT', record, now, now)).toEqual([[false]]);
  });

  test('a record that is not signed yet cannot be answered yet', () => {
    for (const blank of ['', 0]) {
      const {reason, message} = refusal('FINGERPRINT', record, null, blank);
      expect([reason, message]).toEqual(['unavailable', 'the record is not signed yet']);
    }
  });

  test('a fingerprint that Excel turned into a number is refused', () => {
    expect(refusal('FINGERPRINT', record, null, 1234567890123456).message).toContain(
      'signed (row 1, column 1): a fingerprint kept as text is wanted, found the number 1234567890123456',
    );
    expect(refusal('FINGERPRINT', record, 'abc').message).toBe(
      'previous (row 1, column 1): a fingerprint of 16 hexadecimal digits is wanted, found the text "abc"',
    );
    expect(refusal('FINGERPRINT', record, '0123456789abcdef0').message).toContain('previous');
  });
});
