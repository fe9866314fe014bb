import {rimMillimeters, tireSize} from '../../src/maths/tireSize';
import {refusal} from '../support/formula';

const read = (text: string) => {
  const {pieces: _, ...size} = tireSize(text);
  return Object.values(size);
};

describe('what shops type', () => {
  test.each<[string, unknown[]]>([
    // width, aspect, construction, rim, diameter, section, circumference, load index, symbol
    ['P205/55R16 91V', [205, 55, 'R', 16, 632, 113, 3.05 * 632, 91, 'V']],
    ['205/55R16 91V', [205, 55, 'R', 16, 632, 113, 3.05 * 632, 91, 'V']],
    ['LT245/75R16 120/116S', [245, 75, 'R', 16, 774, 184, 3.05 * 774, 120, 'S']],
    ['225/70R19.5', [225, 70, 'R', 19.5, 811, 158, 3.05 * 811, undefined, undefined]],
    ['275/70 R 22.5 148/145M', [275, 70, 'R', 22.5, 958, 193, 3.05 * 958, 148, 'M']],
    // 80 % of 195 is 156.
    ['195R14C 106/104R', [195, 80, 'R', 14, 668, 156, 3.05 * 668, 106, 'R']],
    ['245/40ZR18 (97Y)', [245, 40, 'R', 18, 653, 98, 3.05 * 653, 97, 'Y']],
    ['245/40ZR18 (97Y) XL', [245, 40, 'R', 18, 653, 98, 3.05 * 653, 97, 'Y']],
    ['235/85-16', [235, 85, 'D', 16, 806, 200, undefined, undefined, undefined]],
    ['T125/70D16 96M', [125, 70, 'D', 16, 582, 88, undefined, 96, 'M']],
    ['205/70B15', [205, 70, 'B', 15, 669, 144, undefined, undefined, undefined]],
    ['ST205/75R15 LR D', [205, 75, 'R', 15, 689, 154, 3.05 * 689, undefined, undefined]],
    ['LT245/75R16 E', [245, 75, 'R', 16, 774, 184, 3.05 * 774, undefined, undefined]],
    ['LT245/75R16 load range E 120/116 S', [245, 75, 'R', 16, 774, 184, 3.05 * 774, 120, 'S']],
    ['LT245/75R16 10PR M+S', [245, 75, 'R', 16, 774, 184, 3.05 * 774, undefined, undefined]],
    ['275/70R22.5 148/145M (152/148 J)', [275, 70, 'R', 22.5, 958, 193, 3.05 * 958, 148, 'M']],
    ['215/60R17C 109/107 A8', [215, 60, 'R', 17, 690, 129, 3.05 * 690, 109, 'A8']],
  ])('%s', (text, expected) => expect(read(text)).toEqual(expected));

  test.each(['31X10.50R15LT', '31x10.50r15lt', ' 31 X 10.50 R 15 LT 109R'])('%s', (text) => {
    const size = tireSize(text);
    expect(size.width).toBeCloseTo(266.7, 12);
    expect(size.aspect).toBeUndefined();
    expect(size.diameter).toBeCloseTo(787.4, 12);
    expect(size.section).toBeCloseTo((787.4 - 381) / 2, 12);
    expect(size.circumference).toBeCloseTo(3.05 * 787.4, 9);
    expect([size.rim, size.construction]).toEqual([15, 'R']);
  });

  test.each(['  p205/55 r16   91 v ', 'P 205 / 55 R 16 91V', '205/55r16 91v'])(
    'letter case and blanks do not matter: "%s"',
    (text) => {
      expect(read(text)).toEqual(read('205/55R16 91V'));
    },
  );
});

describe('remarks behind a size', () => {
  const plain = read('205/55R16');
  const described = read('205/55R16 91V');

  test.each([
    'XL', 'RF', 'REINF', 'Reinforced', 'extra load', 'HL', 'C', 'CP', 'LT', 'TL', 'TT', 'M+S', 'M&S', '3PMSF', 'load range D',
    'load range  D', 'LR E', 'LRE', 'B', 'e', 'N', '6PR', '10 PR', '8 ply', '4ply', 'run flat', 'RUNFLAT',
  ])('%s says nothing of its shape', (remark) => {
    const once = remark.replace('  ', ' ');
    for (const text of [`205/55R16 ${once}`, `205/55R16 ${once}, M+S`, `205/55R16 (${once} )`, `205/55R16 ${once} XL`]) {
      expect(read(text)).toEqual(plain);
    }
    expect(read(`205/55R16 ${once} 91V`)).toEqual(described);
    expect(read(`205/55R16 91V ${once}`)).toEqual(described);
  }); // prettier-ignore

  test.each([
    'XLX', 'A', 'O', 'reinfo', 'LR Z', 'load range O', 'PR', 'run', '+', 'load', 'HLX', 'CPX', 'MXL', '?XL',
  ])('%s is none', (remark) => {
    expect(refusal('TIRESIZE', `205/55R16 ${remark}`).message).toBe(
      `text: cannot read "${remark}" in "205/55R16 ${remark}": a service description such as 91V, or a remark such as XL, is wanted there`,
    );
  }); // prettier-ignore
});

describe('service descriptions', () => {
  test.each<[string, number, string]>([
    ['91V', 91, 'V'],
    ['7 A1', 7, 'A1'],
    ['109/107A8', 109, 'A8'],
    ['104 / 102 q', 104, 'Q'],
    ['104/ 102Q', 104, 'Q'],
    ['104 /9 Q', 104, 'Q'],
    ['(97Y)', 97, 'Y'],
    ['91V 88T', 91, 'V'],
    ['91V 88/85T', 91, 'V'],
  ])('%s', (text, index, symbol) => {
    expect(read(`205/55R16 ${text}`).slice(7)).toEqual([index, symbol]);
  });

  test.each([
    ['91VV', 'cannot read "VV"'],
    // A alone is no speed symbol, and its digit stands beside it.
    ['120A 1', 'cannot read "1"'],
    ['123PR', 'cannot read "PR"'],
    ['3PMS', 'cannot read "PMS"'],
    ['M S', 'cannot read "S"'],
    ['91A9', 'cannot read "9"'],
    ['91/V', 'cannot read "91/V"'],
    ['91/1000V', 'cannot read "91/1000V"'],
    ['1000V', 'cannot read "1000V"'],
    ['91/88/87V', 'cannot read "91/88/87V"'],
    ['91/88', 'cannot read "91/88"'],
  ])('%s is none', (text, said) => {
    expect(refusal('TIRESIZE', `205/55R16 ${text}`).message).toContain(`${said} in "205/55R16 ${text}": a s`);
  });
});

describe('what stands before a size', () => {
  test.each(['P', 'LT', 'ST', 'T', 'p', 'lt '])('%s', (mark) => {
    expect(read(`${mark}205/55R16`)).toEqual(read('205/55R16'));
  });

  test.each(['X205/55R16', 'PX205/55R16', 'LP205/55R16', 'P/205/55R16', 'PP205/55R16'])('%s is not read', (text) => {
    expect(refusal('TIRESIZE', text).message).toBe(
      `text: cannot read "${text}" in "${text}": the section width, such as 205, is wanted there`,
    );
  });
});

test.each<[string, string, string]>([
  ['x 205/55R16', 'x 205/55R16', 'the section width, such as 205'],
  ['205/55x16', 'x16', 'the construction, such as R for radial'],
  ['205/55Rx', 'x', 'the rim diameter, such as 16'],
  ['205/55Rx16', 'x16', 'the rim diameter, such as 16'],
  ['31X10.50', '', 'the construction, such as R for radial'],
  ['31Xx5', 'x5', 'the section width behind "X", such as 10.50'],
  ['205.5/-', '-', 'the aspect ratio behind "/", such as 55'],
])('%s: what is wanted at "%s"', (text, at, wanted) => {
  const piece = at === '' ? 'it ends too early' : `cannot read "${at}"`;
  expect(refusal('TIRESIZE', `  ${text} `).message).toBe(`text: ${piece} in "${text}": ${wanted}, is wanted there`);
});

test('widths and rims with a half or a decimal', () => {
  expect(tireSize('205.5/55R16').width).toBe(205.5);
  expect(tireSize('31X10.5R15').pieces.width.value).toBe(10.5);
  expect(tireSize('31.75X10R16.5').pieces).toMatchObject({diameter: {value: 31.75}, rim: {value: 16.5, length: 4}});
  expect(refusal('TIRESIZE', '205/55R16.25').message).toContain('cannot read ".25"');
  expect(refusal('TIRESIZE', '205/55.5R16').message).toContain('cannot read ".5R16"');
});

test('every piece says where it stands', () => {
  const text = ' LT245/75 R16  120/116S';
  const {width, aspect, rim, loadindex, kind, diameter} = tireSize(text).pieces;
  expect([kind, diameter]).toEqual(['metric', undefined]);
  for (const piece of [width, aspect!, rim, loadindex!]) {
    expect(Number(text.slice(piece.at, piece.at + piece.length))).toBe(piece.value);
  }
  const inch = tireSize('31X10.50R15LT').pieces;
  expect([inch.kind, inch.diameter, inch.width]).toEqual([
    'inch',
    {value: 31, at: 0, length: 2},
    {value: 10.5, at: 3, length: 5},
  ]);
});

test('rim diameters of UN R30', () => {
  const table: Record<string, number> = {
    10: 254,
    12: 305,
    13: 330,
    14: 356,
    15: 381,
    16: 406,
    17: 432,
    18: 457,
    19: 483,
    20: 508,
    21: 533,
    22: 559,
    17.5: 445,
    19.5: 495,
    22.5: 572,
  };
  for (const [code, mm] of Object.entries(table)) expect(rimMillimeters(Number(code))).toBe(mm);
});

describe('what cannot be read is named', () => {
  test.each([
    ['abc', 'text: cannot read "abc" in "abc": the section width, such as 205, is wanted there'],
    ['205', 'text: it ends too early in "205": the construction, such as R for radial, is wanted there'],
    ['205/', 'text: it ends too early in "205/": the aspect ratio behind "/", such as 55, is wanted there'],
    ['205/xR16', 'text: cannot read "xR16" in "205/xR16": the aspect ratio behind "/", such as 55, is wanted there'],
    ['205/55', 'text: it ends too early in "205/55": the construction, such as R for radial, is wanted there'],
    ['205/55/16', 'text: cannot read "/16" in "205/55/16": the construction, such as R for radial, is wanted there'],
    ['205/55R', 'text: it ends too early in "205/55R": the rim diameter, such as 16, is wanted there'],
    [
      '205/55R16 91?',
      'text: cannot read "91?" in "205/55R16 91?": a service description such as 91V, or a remark such as XL, is wanted there',
    ],
    ['205/55R16 91X', 'text: it ends too early in "205/55R16 91X": a speed symbol such as V, is wanted there'],
    [
      '205/55R16 hello',
      'text: cannot read "hello" in "205/55R16 hello": a service description such as 91V, or a remark such as XL, is wanted there',
    ],
    ['31Xa', 'text: cannot read "a" in "31Xa": the section width behind "X", such as 10.50, is wanted there'],
    ['99/55R16', 'text: cannot read "99" in "99/55R16": a section width of 100 to 500 mm is wanted there'],
    ['501/55R16', 'text: cannot read "501" in "501/55R16": a section width of 100 to 500 mm is wanted there'],
    ['205/19R16', 'text: cannot read "19" in "205/19R16": an aspect ratio of 20 to 100 is wanted there'],
    ['205/101R16', 'text: cannot read "101" in "205/101R16": an aspect ratio of 20 to 100 is wanted there'],
    ['205/55R1691V', 'text: cannot read "1691" in "205/55R1691V": a rim diameter of 8 to 30 in is wanted there'],
    ['51X10R15', 'text: cannot read "51" in "51X10R15": an overall diameter of 20 to 50 in is wanted there'],
    ['31X21R15', 'text: cannot read "21" in "31X21R15": a section width of 4 to 20 in is wanted there'],
    ['205/55R16 161V', 'text: cannot read "161" in "205/55R16 161V": a load index of 0 to 160 is wanted there'],
  ])('%s', (text, message) => {
    const {reason, message: found} = refusal('TIRESIZE', text);
    expect(reason).toBe('invalid');
    expect(found).toBe(message);
  });

  test('the bounds themselves are read', () => {
    for (const text of ['100/20R8', '500/100R30', '20X4R8', '50X20R30', '205/55R16 160V', '205/55R16 0V']) {
      expect(tireSize(text).width).toBeGreaterThan(0);
    }
  });

  test('a figure that the text does not have', () => {
    expect(refusal('TIRESIZE', '205/55R16', 'loadindex').message).toBe('the text has no load index');
    expect(refusal('TIRESIZE', '205/55R16', 'symbol').message).toBe('the text has no speed symbol');
    expect(refusal('TIRESIZE', '31X10.50R15', 'aspect').message).toBe('an inch size has no aspect ratio');
    expect(refusal('TIRESIZE', '235/85D16', 'circumference').message).toBe('the factor is known for radial tires only');
  });
});
