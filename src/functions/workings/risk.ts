/** Working of RISK: the regression found, that a step from it moves no further, and the probability with its interval. */
import type {Readings} from '../../maths/readings';
import {logistic} from '../../maths/risk';
import type {Steps} from './steps';

interface Given {
  readonly amounts: Readings;
  readonly cameBack: readonly (boolean | undefined)[];
}

export function riskSteps(s: Steps, {amounts, cameBack}: Given): void {
  const known = cameBack.flatMap((flag, i) =>
    flag === undefined || Number.isNaN(amounts.values[i]) ? [] : [{value: amounts.values[i], flag}],
  );
  const {a, b} = logistic(
    known.map(({value}) => value),
    known.map(({flag}) => flag),
  );
  const rows = 'records';
  s.rows(rows, amounts.positions)
    .columnInput(rows, 'r', 'amounts', 'amount left')
    .columnInput(rows, 'f', 'cameBack', '1 where the vehicle came back', undefined, '')
    .column(rows, 'w', 'present(r) == 1 and present(f) == 1 ? 1 : 0', '1 for a record with amount and outcome')
    .column(rows, 'v', 'w == 1 ? r : 0', 'amount, 0 where the record does not count', 'as amounts')
    .column(rows, 'y', 'w == 1 ? f : 0', 'outcome')
    .figure('n', 'sum(w)', {says: 'records that count'})
    .figure('c', 'sum(v)/n', {unit: 'as amounts', says: 'mean amount'})
    .figure('d', 'sqrt(sum(w*(v - c)^2)/n)', {unit: 'as amounts', says: 'standard deviation of the amounts'})
    .column(rows, 'x', 'w*(v - c)/d', 'amount from the mean, in standard deviations')
    .found('a', a, '', 'log odds at the mean, found by climbing; checked below')
    .found('b', b, '', 'log odds for a standard deviation more')
    .column(rows, 'p', '1/(1 + exp(-(a + b*x)))', 'probability')
    .column(rows, 'W', 'w*p*(1 - p)', 'weight')
    .figure('I', 'sum(W)', {says: 'information on the level'})
    .figure('m', 'sum(W*x)/I', {says: 'weighted mean of x'})
    .figure('S', 'sum(W*(x - m)^2)', {says: 'information on the slope'})
    .column(rows, 'l', 'W*(1/I + (x - m)^2/S)', 'leverage of the record')
    .column(rows, 'u', 'w*(y - p) + l*(0.5 - p)', 'part of the score with Firth’s correction')
    .figure('U_a', 'sum(u)', {says: 'score for the level: 0 at a maximum'})
    .figure('U_b', 'sum(u*(x - m))', {says: 'score for the slope: 0 at a maximum'})
    .figure('step_b', 'U_b/S', {says: 'by how much a step from here would move b'})
    .figure('step_a', 'U_a/I - m*step_b', {says: 'and a'})
    .figure('proved', 'abs(step_a) + abs(step_b) <= 1E-6*(1 + abs(a) + abs(b)) ? 1 : 0', {
      says: '1 while a step from here moves neither by a millionth: this is a maximum for these records, of several the highest found',
    })
    .input('at', 'at', 0, 'as amounts', 'amount at which the risk is wanted')
    .figure('X', '(at - c)/d', {says: 'from the mean, in standard deviations'})
    .figure('odds', 'a + b*X', {says: 'log odds there'})
    .figure('half', '-normalquantile(0.025)*sqrt(1/I + (X - m)^2/S)', {
      says: '95 % half-width of the log odds (Wald)',
    })
    .figure('risk', '1/(1 + exp(-odds))', {says: 'probability of a comeback', part: 'risk'})
    .figure('low', '1/(1 + exp(-(odds - half)))', {says: 'low end of its interval', part: 'low'})
    .figure('high', '1/(1 + exp(-(odds + half)))', {says: 'high end', part: 'high'});
}
