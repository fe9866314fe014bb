import {EDITION, VERSION} from '../../src/functions/edition';
import {Refusal} from '../../src/maths/refusal';
import {call, refusal} from '../support/formula';
import {version} from '../../package.json';

const error = (cell: unknown): [string, string] => {
  expect(cell).toBeInstanceOf(Refusal);
  return [(cell as Refusal).reason, (cell as Refusal).message];
};

describe('EACHROW', () => {
  const rims = [
    [0.8, 40],
    [0.5, 0],
    [0.3, 10],
  ];
  const tires = [
    [0.6, 100],
    [0.5, 0],
    [0.2, 90],
  ];

  test('answers each record as the function does for it alone', () => {
    const answer = call('EACHROW', 'MATCH', rims, tires);
    rims.forEach((rim, i) => expect(answer[i]).toEqual(call('MATCH', [rim], [tires[i]])[0]));
    expect(answer).toHaveLength(3);
  });

  test('takes the name in any letter case, with or without the namespace', () => {
    const answer = call('EACHROW', 'MATCH', rims, tires);
    for (const name of ['match', 'WHEEL.MATCH', ' wheel.Match '])
      expect(call('EACHROW', name, rims, tires)).toEqual(answer);
  });

  test('part is the last argument, as usual; omitted arguments stay omitted', () => {
    expect(
      call('EACHROW', 'MATCH', rims, tires, 'after')
        .flat()
        .map((v) => Math.round((v as number) * 10) / 10),
    ).toEqual([0.2, 0, 0.1]);
    const readings = [
      [1, 0, -1, 0],
      [2, 1, 0, 1],
    ];
    call('EACHROW', 'HARMONIC', readings, null, null, 'amount').forEach((row) =>
      expect(row).toEqual([expect.closeTo(2, 12)]),
    );
  });

  test('an argument of one row is shared', () => {
    const answer = call('EACHROW', 'MATCH', rims, [[0.6, 100]]);
    rims.forEach((rim, i) => expect(answer[i]).toEqual(call('MATCH', [rim], [[0.6, 100]])[0]));
    expect(call('EACHROW', 'STOCK', [[12], [13]], 5)).toEqual([[10], [15]]);
  });

  test('a table is shared as one row', () => {
    const masses = [
      [20, 0, 20, 180],
      [10, 0, 10, 0],
    ];
    expect(call('EACHROW', 'STATICCOUPLE', masses, [[-80, 200, 80, 200]], 'static')).toEqual([[0], [4000]]);
  });

  test('an empty record gives empty texts in its row alone', () => {
    const answer = call(
      'EACHROW',
      'MATCH',
      [
        [0.8, 40],
        ['', ''],
        [0.3, 10],
      ],
      [
        [0.6, 100],
        ['', ''],
        [0.2, 90],
      ],
    );
    expect(answer[1]).toEqual(['', '', '', '']);
    expect(answer[2]).toEqual(call('MATCH', [[0.3, 10]], [[0.2, 90]])[0]);
    expect(call('EACHROW', 'MATCH', [['', '']], [[0.6, 100]])).toEqual([['']]);
    expect(
      call(
        'EACHROW',
        'MATCH',
        [
          ['', ''],
          ['', ''],
        ],
        [
          [0.6, 100],
          ['', ''],
        ],
        'turn',
      )[1],
    ).toEqual(['']);
  });

  test('a record empty in part is refused, not skipped', () => {
    const answer = call(
      'EACHROW',
      'MATCH',
      [
        [0.8, 40],
        ['', ''],
      ],
      tires.slice(0, 2),
    );
    expect(error(answer[1][0])).toEqual([
      'invalid',
      'rim (row 1, column 1): an amount, at least 0, is wanted, found an empty text',
    ]);
  });

  test('a failing record fills its own row with its error', () => {
    const answer = call('EACHROW', 'HARMONIC', [
      [1, 0, -1, 0],
      [1, '', '', ''],
      ['x', 0, 0, 0],
    ]);
    expect(answer.map((row) => row.length)).toEqual([2, 2, 2]);
    expect(error(answer[1][0])).toEqual(['unavailable', 'readings: 1 reading is present, order 1 needs at least 3']);
    expect(answer[1][1]).toBe(answer[1][0]);
    expect(error(answer[2][0])[1]).toContain('readings (row 1, column 1): a reading is wanted, found the text "x"');
  });

  test('functions of one figure and of a row of cells take part too', () => {
    expect(
      call(
        'EACHROW',
        'READINGCHECK',
        [
          [1, 2, 4, 3],
          [1, 2, 4, ''],
        ],
        null,
        1,
      ),
    ).toEqual([['ok'], ['1 reading missing']]);
    expect(
      call('EACHROW', 'CLOSED', [
        [0, 1, 0.2],
        [1, 2, 1.2],
      ]),
    ).toEqual([
      [0, 0.9],
      [1, 1.9],
    ]);
    expect(
      call(
        'EACHROW',
        'PLACE',
        [
          [1, 2],
          [2, 1],
        ],
        [[1, 2]],
      ),
    ).toEqual([
      [2, 1],
      [1, 2],
    ]);
  });

  test('one record alone', () => expect(call('EACHROW', 'TIR', [[1, 4, 2]])).toEqual([[3]]));

  test.each<[string, unknown[], string]>([
    ['an unknown name', ['NOPE', [[1]]], 'name: there is no function WHEEL.NOPE'],
    ['a table', ['HARMONICS', [[1, 2, 3]]], 'name: WHEEL.HARMONICS does not answer with one row a record'],
    ['itself', ['EACHROW', [[1]]], 'name: WHEEL.EACHROW does not answer with one row a record'],
    ['no argument', ['MATCH'], 'arguments: the first argument is missing'],
    ['a first argument left out', ['MATCH', null, [[1, 0]]], 'arguments: the first argument is missing'],
    ['too many arguments', ['TIR', [[1, 2]], 1, 2], 'arguments: WHEEL.TIR takes 1 arguments, found 3'],
    [
      'another number of rows',
      ['MATCH', rims, tires.slice(1)],
      'arguments, tire: 3 rows as in rim, or one row for all, are wanted, found 2',
    ],
    ['a ragged argument', ['MATCH', [[1, 0], [2]], tires], 'arguments, rim: a rectangular range is wanted'],
    ['no name', ['', rims], 'name (row 1, column 1): a text is wanted, found an empty text'],
  ])('refuses %s', (_, args, message) => expect(refusal('EACHROW', ...args).message).toContain(message));

  test('leaves what it is given as it is', () => {
    const given = rims.map((row) => Object.freeze([...row]));
    Object.freeze(given);
    expect(call('EACHROW', 'MATCH', given, given)).toHaveLength(3);
  });
});

test('the edition names the package’s own version', () => {
  expect(VERSION).toBe(version);
  expect(call('EDITION')).toEqual([[EDITION]]);
  expect(EDITION).toBe(`Wheel Ledger ${version}, calculations 1`);
});
