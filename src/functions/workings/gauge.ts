/** Working of GAUGE: crossed analysis of variance. */
import type {Readings} from '../../maths/readings';
import type {Steps} from './steps';

const SQUARE = 'values²';

export function gaugeSteps(s: Steps, {values, tolerance}: {values: Readings; tolerance: number | undefined}): void {
  const rows = 'values';
  s.rows(rows, values.positions)
    .columnInput(rows, 'y', 'values', 'measured value')
    .columnInput(rows, 'P_w', 'parts', 'part as written', undefined, '')
    .columnInput(rows, 'O_w', 'operators', 'operator as written', undefined, '')
    .column(rows, 'P', 'trimmed(P_w)', 'part')
    .column(rows, 'O', 'trimmed(O_w)', 'operator')
    .input('y_1', 'values', 0, 'as values', 'first value')
    .column(rows, 'x', 'y - y_1', 'counted from the first value', 'as values')
    .column(rows, 'P_m', 'meanby(x, P)', 'mean of the part', 'as values')
    .column(rows, 'O_m', 'meanby(x, O)', 'mean of the operator', 'as values')
    .column(rows, 'C_m', 'meanby(x, P, O)', 'mean of part and operator', 'as values')
    .column(rows, 'P_n', 'countwhere(P, P)', 'values of the part')
    .column(rows, 'O_n', 'countwhere(O, O)', 'values of the operator')
    .figure('n', 'count(y)', {says: 'values'})
    .figure('p', 'floor(sum(1/P_n) + 0.5)', {says: 'parts'})
    .figure('o', 'floor(sum(1/O_n) + 0.5)', {says: 'operators'})
    .figure('r', 'n/(p*o)', {says: 'repeats'})
    .figure('m', 'sum(x)/n', {unit: 'as values', says: 'mean'})
    .figure('S_P', 'sum((P_m - m)^2)', {unit: SQUARE, says: 'sum of squares of parts'})
    .figure('S_O', 'sum((O_m - m)^2)', {unit: SQUARE, says: 'sum of squares of operators'})
    .figure('S_I', 'sum((C_m - m)^2) - S_P - S_O', {unit: SQUARE, says: 'sum of squares of the interaction'})
    .figure('S_E', 'sum((x - C_m)^2)', {unit: SQUARE, says: 'sum of squares of repeating'})
    .figure('ν_I', '(p - 1)*(o - 1)', {says: 'degrees of freedom of the interaction'})
    .figure('ν_E', 'n - p*o', {says: 'degrees of freedom of repeating'})
    .figure('f', 'S_E > 0 ? fright(greater(0, S_I/ν_I/(S_E/ν_E)), ν_I, ν_E) : (S_I > 0 ? 0 : 1)', {
      says: 'p-value of the interaction',
    })
    .figure('pooled', 'f > 0.25 ? 1 : 0', {says: '1 when the interaction is pooled into repeatability'})
    .figure('V_1', 'pooled == 1 ? (S_E + S_I)/(ν_E + ν_I) : S_E/ν_E', {unit: SQUARE, says: 'repeatability'})
    .figure('against', 'pooled == 1 ? V_1 : S_I/ν_I', {unit: SQUARE, says: 'mean square to compare with'})
    .figure('V_O', 'greater(0, (S_O/(o - 1) - against)/(p*r))', {unit: SQUARE, says: 'operators'})
    .figure('V_I', 'pooled == 1 ? 0 : greater(0, (S_I/ν_I - V_1)/r)', {unit: SQUARE, says: 'interaction'})
    .figure('V_2', 'V_O + V_I', {unit: SQUARE, says: 'reproducibility'})
    .figure('V_3', 'V_1 + V_2', {unit: SQUARE, says: 'gauge'})
    .figure('V_4', 'greater(0, (S_P/(p - 1) - against)/(o*r))', {unit: SQUARE, says: 'part'})
    .figure('V_5', 'V_3 + V_4', {unit: SQUARE, says: 'total'});
  if (tolerance === undefined)
    s.figure('whole', 'sqrt(V_5)', {unit: 'as values', says: 'standard deviation of the total'});
  else
    s.input('T', 'tolerance', 0, 'as values', 'tolerance').figure('whole', 'T/6', {
      unit: 'as values',
      says: 'the tolerance as six standard deviations',
    });
  [
    'pooled == 1 ? "repeatability (interaction pooled)" : "repeatability"',
    'pooled == 1 ? "reproducibility" : "reproducibility (with interaction)"',
    '"gauge"',
    '"part"',
    '"total"',
  ].forEach((name, i) => {
    const row = i + 1;
    s.figure(`name_${row}`, name, {says: 'source of variation', part: 'source', row})
      .answer(`V_${row}`, {part: 'variance', row})
      .figure(`sd_${row}`, `sqrt(V_${row})`, {unit: 'as values', says: 'standard deviation', part: 'sd', row})
      .figure(`percent_${row}`, `whole > 0 ? 100*sd_${row}/whole : none()`, {
        unit: '%',
        says: 'share of the total, or of the tolerance',
        part: 'percent',
        row,
      });
  });
}
