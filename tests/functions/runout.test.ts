/** What the runout functions do with cells: shapes, blanks and omitted arguments. The mathematics has its own tests. */
import {Refusal} from '../../src/maths/refusal';
import {call, figures, refusal} from '../support/formula';

const flat = [0.5, 0.3, '', -0.3, -0.5, -0.2, 0, 0.3];

describe('CURVE', () => {
  test('keeps the shape of the readings, missing ones filled in', () => {
    const row = call('CURVE', [flat], 1);
    expect(row).toHaveLength(1);
    expect(row[0]).toHaveLength(8);
    expect(row[0].every((v) => typeof v === 'number')).toBe(true);
    const column = call(
      'CURVE',
      flat.map((v) => [v]),
      1,
    );
    expect(column.map(([v]) => v)).toEqual(row[0]);
    const block = call('CURVE', [flat.slice(0, 4), flat.slice(4)], 1);
    expect(block.flat()).toEqual(row[0]);
    expect(block.map((r) => r.length)).toEqual([4, 4]);
  });

  test('at given angles it takes their shape', () => {
    const all = call('CURVE', [flat], 1)[0];
    expect(call('CURVE', [flat], 1, null, [[0], [90]])).toEqual([[all[0]], [all[2]]]);
    expect(call('CURVE', [flat], 1, null, 45)).toEqual([[all[1]]]);
  });

  test('a missing reading without an angle has no place on the curve', () => {
    const angles = [0, 45, '', 135, 180, 225, 270, 315];
    const row = call('CURVE', [flat], 1, [angles])[0];
    expect(row[2]).toBeInstanceOf(Refusal);
    expect((row[2] as Refusal).reason).toBe('unavailable');
    expect(row.filter((v) => typeof v === 'number')).toHaveLength(7);
  });

  test('orders beyond maxOrder are fitted but not drawn', () => {
    const wave = Array.from(
      {length: 16},
      (_, i) => Math.cos((i * Math.PI) / 8) + 0.5 * Math.cos((3 * i * Math.PI) / 8),
    );
    expect(figures('CURVE', [wave], 1, null, 0)[0]).toBeCloseTo(1, 12);
    expect(figures('CURVE', [wave], 3, null, 0)[0]).toBeCloseTo(1.5, 12);
  });
});

describe('CLOSED', () => {
  test('keeps a column a column, anything else becomes a row; missing stays missing', () => {
    const readings = [0, 1, '', 1, 0.4];
    expect(call('CLOSED', [readings])).toEqual([[0, 0.9, '', 0.7]]);
    expect(
      call(
        'CLOSED',
        readings.map((v) => [v]),
      ),
    ).toEqual([[0], [0.9], [''], [0.7]]);
  });

  test('serves as an argument', () => {
    const closed = call('CLOSED', [[0.1, 0.6, 0.1, -0.4, 0.14]]);
    // 0.1, 0.59, 0.08, −0.43: half differences 0.01 and 0.51.
    expect(figures('HARMONIC', closed)[0]).toBeCloseTo(2 * Math.hypot(0.01, 0.51), 12);
  });
});

test('null and undefined are missing readings as an empty text is', () => {
  const expected = call('HARMONIC', [flat]);
  expect(call('HARMONIC', [flat.map((v) => (v === '' ? null : v))])).toEqual(expected);
  expect(call('HARMONIC', [flat.map((v) => (v === '' ? undefined : v))])).toEqual(expected);
});

test('HARMONIC names the same figure as HARMONICS, for every order', () => {
  const readings = [...flat, 0.4, 0.1, 0.2, ...flat];
  const table = call('HARMONICS', [readings], 4);
  for (const order of [1, 2, 3, 4]) {
    expect(call('HARMONIC', [readings], order)[0]).toEqual(table[order - 1].slice(1, 3));
  }
});

test('HARMONIC and HARMONICS name the same figure where readings are missing, with the default order', () => {
  const readings = [0.5, 0.3, 0.1, -0.3, -0.5, -0.2, 0, 0.3, '', 0.1, 0.2, 0.4];
  expect(call('HARMONIC', [readings])[0]).toEqual(call('HARMONICS', [readings])[0].slice(1, 3));
  expect(2 * figures('ROUNDNESS', [readings])[1]).toBeCloseTo(figures('HARMONIC', [readings])[0], 14);
});

test('BEADSEATS: by hand', () => {
  // 0.4 at 0° and 0.4 at 60°: mean 0.2·√3 at 30°; difference 0.4 at 300°.
  const [amount, angle, tilt, tiltAngle] = figures('BEADSEATS', [[0.4, 0]], [[0.4, 60]]);
  expect(amount).toBeCloseTo(0.2 * Math.sqrt(3), 14);
  expect(angle).toBeCloseTo(30, 12);
  expect(tilt).toBeCloseTo(0.4, 14);
  expect(tiltAngle).toBeCloseTo(300, 12);
});

test('an angle is wanted where a reading is, and only there', () => {
  const angles = [0, 45, 'x', 135, 180, 225, 270, 315];
  expect(call('HARMONIC', [flat], 1, [angles])).toHaveLength(1);
  angles[4] = '';
  expect(refusal('HARMONIC', [flat], 1, [angles]).message).toBe(
    'angles (row 1, column 5): an angle in degrees is wanted, found an empty text',
  );
});

test('MATCHCURVE looks at the angle wherever either set has a reading', () => {
  const other = [0.5, '', 0.1, -0.3, -0.5, -0.2, 0, 0.3];
  const angles = [0, 45, '', 135, 180, 225, 270, 315];
  expect(refusal('MATCHCURVE', [flat], [other], 2, [angles]).message).toContain('angles (row 1, column 3)');
  expect(refusal('MATCHCURVE', [flat], [other.slice(1)], 2, [angles]).message).toBe(
    'angles: as many cells as assemblyReadings has are wanted, 7, found 8',
  );
});

test('ten thousand readings are answered', () => {
  const many = Array.from({length: 100}, (_, r) =>
    Array.from({length: 100}, (_, c) => Math.cos(((r * 100 + c) * 2 * Math.PI) / 10000)),
  );
  expect(figures('HARMONIC', many)[0]).toBeCloseTo(2, 12);
  expect(call('CURVE', many)[99]).toHaveLength(100);
  expect(figures('LOCAL', many)[0]).toBeLessThan(1e-9);
  expect(call('READINGCHECK', many)).toEqual([['ok']]);
  expect(figures('ROUNDNESS', many, 'MZ')[1]).toBeCloseTo(1, 9);
});
