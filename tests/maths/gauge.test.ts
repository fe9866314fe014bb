/** Gauge study: by hand, against its definition, and against the components that values were drawn with. */
import jStat from 'jstat';
import {gauge} from '../../src/maths/gauge';
import {refusal} from '../support/formula';
import {refused} from '../support/polar';
import {normalFrom, randomFrom} from '../support/random';

describe('gauge study', () => {
  test('ten thousand values of two parts by two operators', () => {
    const records = Array.from({length: 10000}, (_, i) => ({
      value: 5 + (i % 2) + (i % 8 < 4 ? 0.1 : -0.1),
      part: `part ${i % 2}`,
      operator: `operator ${Math.floor(i / 2) % 2}`,
    }));
    const [repeatability, reproducibility] = gauge(records, undefined);
    // Operators and interaction differ by nothing: all squares of 0.1 lie within the cells, over n − 4 + 1.
    expect(repeatability.variance).toBeCloseTo((10000 * 0.01) / 9997, 9);
    expect(reproducibility.variance).toBeCloseTo(0, 9);
  });

  const study = (
    parts: number,
    operators: number,
    repeats: number,
    value: (p: number, o: number, r: number) => number,
  ) =>
    Array.from({length: parts * operators * repeats}, (_, i) => {
      const [p, o, r] = [i % parts, Math.floor(i / parts) % operators, Math.floor(i / parts / operators)];
      return {value: value(p, o, r), part: `p${p}`, operator: `o${o}`};
    });

  test('an interaction that counts goes to reproducibility', () => {
    // Two parts, two operators who disagree on each the other way round; repeats ±0.01.
    const rows = gauge(
      study(2, 2, 2, (p, o, r) => 10 * p + (p === o ? 1 : -1) + (r === 0 ? 0.01 : -0.01)),
      undefined,
    );
    expect(rows.map(({source}) => source)).toEqual([
      'repeatability',
      'reproducibility (with interaction)',
      'gauge',
      'part',
      'total',
    ]);
    // Error: each cell ±0.01, SS 8·1e-4 on 4 degrees of freedom. Interaction: SS 8 on 1; component (8 − 2e-4)/2.
    expect(rows[0].variance).toBeCloseTo(2e-4, 12);
    expect(rows[1].variance).toBeCloseTo((8 - 2e-4) / 2, 10);
    // Parts: means differ by 10, SS 8·25 = 200; component (200 − 8)/4.
    expect(rows[3].variance).toBeCloseTo((200 - 8) / 4, 10);
    expect(rows[4].variance).toBeCloseTo(rows[2].variance + rows[3].variance, 12);
    expect(rows[2].percent).toBeCloseTo(100 * Math.sqrt(rows[2].variance / rows[4].variance), 12);
  });

  test('with a tolerance, percent is of it', () => {
    const rows = gauge(
      study(3, 2, 2, (p, o, r) => p + 0.1 * o + 0.05 * r),
      6,
    );
    expect(rows[0].percent).toBeCloseTo(100 * rows[0].sd, 12);
  });

  test('variance components are those the values were drawn with', () => {
    const normal = normalFrom(randomFrom(4));
    const part = Array.from({length: 300}, () => 2 * normal());
    const operator = Array.from({length: 100}, () => 0.5 * normal());
    const rows = gauge(
      study(300, 100, 2, (p, o) => part[p] + operator[o] + 0.3 * normal()),
      undefined,
    );
    expect(rows[0].variance / 0.09).toBeCloseTo(1, 1);
    expect(rows[1].variance / 0.25).toBeGreaterThan(0.7);
    expect(rows[1].variance / 0.25).toBeLessThan(1.35);
    expect(rows[3].variance / 4).toBeGreaterThan(0.8);
    expect(rows[3].variance / 4).toBeLessThan(1.25);
  });

  test('negative components are 0; nothing that varies has no percent', () => {
    const rows = gauge(
      study(2, 2, 2, (_p, _o, r) => r),
      undefined,
    );
    expect(rows[1].variance).toBe(0);
    expect(rows[3].variance).toBe(0);
    expect(
      gauge(
        study(2, 2, 2, () => 5),
        undefined,
      ).map(({percent}) => percent),
    ).toEqual(new Array(5).fill(undefined));
  });

  test('a level does not matter', () => {
    const value = (p: number, o: number, r: number) => Math.sin(7 * p + 3 * o + r);
    const rows = gauge(study(4, 3, 2, value), undefined);
    gauge(
      study(4, 3, 2, (p, o, r) => 1e6 + value(p, o, r)),
      undefined,
    ).forEach((row, i) => expect(row.variance).toBeCloseTo(rows[i].variance, 8));
  });

  test('what is not crossed and balanced is refused', () => {
    const ask = (values: number[], parts: string[], operators: string[]) =>
      refusal('GAUGE', [values], [parts], [operators]);
    expect(ask([1, 2, 3, 4], ['a', 'a', 'a', 'a'], ['x', 'x', 'y', 'y']).message).toBe(
      'parts: at least two parts are needed',
    );
    expect(ask([1, 2, 3, 4], ['a', 'a', 'b', 'b'], ['x', 'x', 'x', 'x']).message).toBe(
      'operators: at least two operators are needed',
    );
    expect(ask([1, 2, 3, 4], ['a', 'a', 'b', 'b'], ['x', 'y', 'x', 'y']).message).toBe(
      'values: at least two values of every part by every operator are needed',
    );
    expect(ask([1, 2, 3, 4, 5], ['a', 'a', 'b', 'b', 'b'], ['x', 'y', 'x', 'y', 'y']).message).toContain(
      'part "a" with operator "x" has 1, part "b" with operator "y" has 2',
    );
    expect(refusal('GAUGE', [[1, '']], [['a', 'b']], [['x', 'y']]).message).toBe('values: value 2 is missing');
    expect(refusal('GAUGE', [[1, 2]], [['a', '']], [['x', 'y']]).message).toBe('parts: value 2 has no part');
    expect(refusal('GAUGE', [[1, 2]], [['a', 'b']], [['', 'y']]).message).toBe('operators: value 1 has no operator');
    expect(refusal('GAUGE', [[1, 2]], [['a', 'b', 'c']], [['x', 'y']]).message).toBe(
      'parts: as many cells as values has are wanted, 2, found 3',
    );
    expect(refusal('GAUGE', [[1, 2]], [['a', 'b']], [['x', 'y', 'z']]).message).toBe(
      'operators: as many cells as values has are wanted, 2, found 3',
    );
  });

  /** Sums of squares about the means as they are defined, cell by cell. */
  function anova(records: {value: number; part: string; operator: string}[]) {
    const mean = (list: typeof records) => list.reduce((sum, {value}) => sum + value, 0) / list.length;
    const parts = [...new Set(records.map(({part}) => part))];
    const operators = [...new Set(records.map(({operator}) => operator))];
    const [p, o] = [parts.length, operators.length];
    const r = records.length / p / o;
    const all = mean(records);
    const ofPart = parts.map((part) => mean(records.filter((x) => x.part === part)));
    const ofOperator = operators.map((operator) => mean(records.filter((x) => x.operator === operator)));
    let [between, within] = [0, 0];
    parts.forEach((part, i) =>
      operators.forEach((operator, j) => {
        const cell = records.filter((x) => x.part === part && x.operator === operator);
        between += r * (mean(cell) - ofPart[i] - ofOperator[j] + all) ** 2;
        within += cell.reduce((sum, {value}) => sum + (value - mean(cell)) ** 2, 0);
      }),
    );
    const [df, dfWithin] = [(p - 1) * (o - 1), p * o * (r - 1)];
    const f = between / df / (within / dfWithin);
    const pooled = 1 - jStat.centralF.cdf(f, df, dfWithin) > 0.25;
    const error = pooled ? (between + within) / (df + dfWithin) : within / dfWithin;
    const against = pooled ? error : between / df;
    const msPart = (o * r * ofPart.reduce((s, m) => s + (m - all) ** 2, 0)) / (p - 1);
    const msOperator = (p * r * ofOperator.reduce((s, m) => s + (m - all) ** 2, 0)) / (o - 1);
    const reproducibility =
      Math.max(0, (msOperator - against) / p / r) + (pooled ? 0 : Math.max(0, (between / df - error) / r));
    const part = Math.max(0, (msPart - against) / o / r);
    return {pooled, variances: [error, reproducibility, error + reproducibility, part, error + reproducibility + part]};
  }

  test('as by its definition, the interaction pooled or not', () => {
    const normal = normalFrom(randomFrom(14));
    const met = {pooled: 0, apart: 0};
    for (let n = 0; n < 60; n++) {
      const [p, o, r] = [2 + (n % 4), 2 + (n % 3), 2 + (n % 2)];
      const [part, operator] = [Array.from({length: p}, normal), Array.from({length: o}, normal)];
      const cell = Array.from({length: p * o}, normal);
      const share = (n % 5) / 4;
      const records = study(p, o, r, (i, j) => part[i] + 0.5 * operator[j] + share * cell[i * o + j] + 0.5 * normal());
      const {pooled, variances} = anova(records);
      met[pooled ? 'pooled' : 'apart']++;
      const rows = gauge(records, undefined);
      rows.forEach(({variance, sd, percent}, k) => {
        expect(variance).toBeCloseTo(variances[k], 10);
        expect(sd).toBeCloseTo(Math.sqrt(variances[k]), 6);
        expect(percent).toBeCloseTo(100 * Math.sqrt(variances[k] / variances[4]), 5);
      });
      expect(rows.map(({source}) => source)).toEqual([
        pooled ? 'repeatability (interaction pooled)' : 'repeatability',
        pooled ? 'reproducibility' : 'reproducibility (with interaction)',
        'gauge',
        'part',
        'total',
      ]);
    }
    expect([met.pooled > 10, met.apart > 10]).toEqual([true, true]);
  });

  test('values that repeat exactly: any interaction counts, none is pooled', () => {
    // Cell means 0, 2, 2, 0: nothing but interaction, sum of squares 8.
    const crossed = gauge(
      study(2, 2, 2, (p, o) => (p === o ? 0 : 2)),
      undefined,
    );
    expect(crossed.map(({variance}) => variance)).toEqual([0, 4, 4, 0, 4]);
    expect(crossed[1].source).toBe('reproducibility (with interaction)');
    const added = gauge(
      study(2, 2, 2, (p, o) => 4 * p + 2 * o),
      undefined,
    );
    expect(added.map(({variance}) => variance)).toEqual([0, 2, 2, 8, 10]);
    expect(added[0].source).toBe('repeatability (interaction pooled)');
  });

  test('two names together are not those of another pair', () => {
    const names = [
      ['a', 'b"c'],
      ['a"b', 'c'],
    ];
    const rows = study(2, 2, 2, (p, o, r) => p + 3 * o * p + 0.25 * r);
    const renamed = rows.map(({value, part, operator}) => ({
      value,
      part: names[0][Number(part[1])],
      operator: names[1][Number(operator[1])],
    }));
    expect(gauge(renamed, undefined)).toEqual(gauge(rows, undefined));
  });

  test('a part that an operator never measured', () => {
    const records = study(2, 2, 2, (p, o, r) => p + o + r).filter(({part, operator}) => part + operator !== 'p1o1');
    expect(refused(() => gauge(records, undefined))).toEqual({
      reason: 'invalid',
      argument: 'values',
      message:
        'values: every operator must measure every part equally often: part "p0" with operator "o0" has 2, part "p1" with operator "o1" has 0',
    });
    const once = study(2, 2, 1, (p, o) => p + o);
    expect(refused(() => gauge(once, undefined)).reason).toBe('unavailable');
    expect(refused(() => gauge(once.slice(0, 1), undefined)).reason).toBe('unavailable');
  });
});
