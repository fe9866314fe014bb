/** What a shop learns from its records. */
import {angleTest} from '../maths/circular';
import {control} from '../maths/control';
import {gauge} from '../maths/gauge';
import {compare, groupRates, proportion} from '../maths/proportions';
import {invalid, unavailable} from '../maths/refusal';
import {logistic, riskAt} from '../maths/risk';
import {part} from './answers';
import {amount, count, number, optional, optionalFlags, positive, labels, measured} from './arguments';
import {family} from './declare';

const {functions, declare, declareTable} = family('Quality records');
export const QUALITY = functions;

const gaugeWorking = () => import(/* webpackChunkName: "working" */ './workings/gauge');
const qualityWorking = () => import(/* webpackChunkName: "working" */ './workings/quality');
const rateWorking = () => import(/* webpackChunkName: "working" */ './workings/rate');
const riskWorking = () => import(/* webpackChunkName: "working" */ './workings/risk');

/** Sums over all tables with the same margins take a while beyond this. */
const MOST_COMPARED = 100000;
const MOST_COUNTED = 1e9;

const confidence = optional(
  number('confidence of the interval', {what: 'a confidence', above: 0, most: 0.999999}),
  0.95,
);
const SHARE = part('share', '');
const LOW = part('low end of the interval', '');
const HIGH = part('high end of the interval', '');

/** @throws Refusal when more were counted than there are */
function within(count: number, total: number, name: string): void {
  if (count > total) throw invalid(`at most the total, ${total}, is wanted, found ${count}`, name);
}

declare({
  name: 'PROPORTION',
  summary: 'A share and the interval it is known to.',
  arguments: {
    count: count('how many were counted', 0, MOST_COUNTED),
    total: count('of how many', 1, MOST_COUNTED),
    confidence,
  },
  parts: {share: SHARE, low: LOW, high: HIGH},
  answer: ({count, total, confidence}) => {
    within(count, total, 'count');
    return proportion(count, total, confidence);
  },
  working: async () => (await rateWorking()).proportionSteps,
  mathematics: 'Wilson’s score interval: all shares from which the count is at most z standard errors away.',
  source: 'Wilson 1927; NIST/SEMATECH e-Handbook 7.2.4.1',
  errors: ['#VALUE!: the count exceeds the total'],
  example: {formula: '=WHEEL.PROPORTION(81,263)', gives: [[0.3079847909, 0.2552885199, 0.366209577]]},
});

declare({
  name: 'COMPARE',
  summary: 'Two shares compared: their difference, its interval, and how likely chance alone would do this.',
  arguments: {
    count1: count('how many of the first were counted', 0, MOST_COMPARED),
    total1: count('of how many', 1, MOST_COMPARED),
    count2: count('how many of the second were counted', 0, MOST_COMPARED),
    total2: count('of how many', 1, MOST_COMPARED),
  },
  parts: {
    difference: part('share 1 − share 2', ''),
    low: part('low end of its 95 % interval', ''),
    high: part('high end of its 95 % interval', ''),
    p: part('probability of this or a less likely table if the shares were the same', ''),
  },
  answer: ({count1, total1, count2, total2}) => {
    within(count1, total1, 'count1');
    within(count2, total2, 'count2');
    return compare(count1, total1, count2, total2);
  },
  working: async () => (await rateWorking()).compareSteps,
  mathematics:
    'Newcombe’s score interval without continuity correction, from two Wilson intervals; Fisher’s exact test, two-sided, over all tables no more probable than this one.',
  source: 'Newcombe, Statist. Med. 17 (1998) 873–890, method 10; Fisher, The Design of Experiments',
  errors: ['#VALUE!: a count exceeds its total'],
  example: {formula: '=WHEEL.COMPARE(56,70,48,80)', gives: [[0.2, 0.0524314724, 0.333872654, 0.01252112975]]},
});

declareTable({
  name: 'GROUPRATE',
  summary: 'By supplier, size or plant: how many, of how many, the share and its interval, worst first.',
  notes: [
    'Records without a name or without a flag are left out. Names are compared without regard to letter case and outer blanks.',
  ],
  arguments: {
    names: labels('supplier, size, plant … of each record'),
    flags: optionalFlags('TRUE where the record counts, such as Finding="replace tire"'),
    confidence,
    minTotal: optional(count('groups with fewer records are left out', 1), 1),
  },
  parts: {
    name: part('name', ''),
    count: part('records that count', ''),
    total: part('records', ''),
    share: SHARE,
    low: LOW,
    high: HIGH,
  },
  answer: ({names, flags, confidence, minTotal}) => {
    if (flags.length !== names.length) {
      throw invalid(`as many cells as names has are wanted, ${names.length}, found ${flags.length}`, 'flags');
    }
    const records = names.flatMap((name, i) => {
      const flag = flags[i];
      return name === undefined || flag === undefined ? [] : [{name, flag}];
    });
    const rates = groupRates(records, confidence, minTotal);
    if (rates.length === 0) throw unavailable('no group has as many records as wanted yet', 'names');
    return rates;
  },
  working: async () => (await rateWorking()).groupRateSteps,
  mathematics: 'Wilson’s score interval for each group; ordered by its low end, then count, downward, then name.',
  source: 'Wilson 1927',
  errors: ['#N/A: no group has as many records as minTotal'],
  example: {
    formula: '=WHEEL.GROUPRATE({"North";"South";"north";"South"},{TRUE;FALSE;TRUE;TRUE})',
    gives: [
      ['North', 2, 2, 1, 0.3423802276, 1],
      ['South', 1, 2, 0.5, 0.09453120573, 0.9054687943],
    ],
  },
});

declare({
  name: 'CONTROL',
  summary: 'Control limits of single values in their order, and how many lie outside.',
  notes: [
    'A blank cell reaches a worksheet function as 0. Write IF(range="","",range) so that it counts as missing.',
    'The lower limit is not clipped at 0.',
  ],
  arguments: {values: measured('values in the order in which they came')},
  parts: {
    mean: part('mean', 'as values'),
    lower: part('lower control limit', 'as values'),
    upper: part('upper control limit', 'as values'),
    out: part('values strictly outside', ''),
  },
  answer: ({values}) => control(values),
  working: async () => (await qualityWorking()).controlSteps,
  mathematics: 'mean ± 3·(mean moving range)/1.128; no moving range across a missing value.',
  source: 'individuals chart, NIST/SEMATECH e-Handbook 6.3.2.2',
  errors: ['#N/A: no two values in a row'],
  example: {
    formula: '=WHEEL.CONTROL({49.6,47.6,49.9,51.3,47.8,51.2,52.6,52.4,53.6,52.1})',
    gives: [[50.81, 45.81591017, 55.80408983, 0]],
  },
});

declareTable({
  name: 'GAUGE',
  summary: 'Gauge study: how much of what is measured comes from repeating, from operators and from the parts.',
  notes: [
    'Every operator measures every part equally often, at least twice.',
    'The interaction is pooled into repeatability when its p-value is above 0.25, else it counts to reproducibility; the names of the rows say which.',
  ],
  arguments: {
    values: measured('measured values'),
    parts: labels('part (wheel) of each value'),
    operators: labels('operator of each value'),
    tolerance: optional(positive('tolerance, the whole width', 'a tolerance'), undefined, 'percent of the total'),
  },
  parts: {
    source: part('source of variation', ''),
    variance: part('variance', 'values²'),
    sd: part('standard deviation', 'as values'),
    percent: part('100 · sd ÷ total sd, or 600 · sd ÷ tolerance', '%', 'nothing varies'),
  },
  answer: ({values, parts, operators, tolerance}) => {
    const records = Array.from({length: values.positions}, (_, i) => {
      const [part, operator] = [parts[i], operators[i]];
      if (Number.isNaN(values.values[i])) throw invalid(`value ${i + 1} is missing`, 'values');
      if (part === undefined) throw invalid(`value ${i + 1} has no part`, 'parts');
      if (operator === undefined) throw invalid(`value ${i + 1} has no operator`, 'operators');
      return {value: values.values[i], part: part.toLowerCase(), operator: operator.toLowerCase()};
    });
    for (const [list, name] of [
      [parts, 'parts'],
      [operators, 'operators'],
    ] as const) {
      if (list.length !== records.length)
        throw invalid(`as many cells as values has are wanted, ${records.length}, found ${list.length}`, name);
    }
    return gauge(records, tolerance);
  },
  working: async () => (await gaugeWorking()).gaugeSteps,
  mathematics:
    'Crossed analysis of variance; components from mean squares, negative ones 0; the interaction pooled into repeatability when its p > 0.25.',
  source: 'AIAG, Measurement Systems Analysis, 4th edition',
  errors: [
    '#N/A: fewer than two parts, operators or repeats',
    '#VALUE!: not every operator measured every part equally often',
  ],
  example: {
    formula:
      '=WHEEL.GAUGE({1;1.1;2;2.1;1.2;1.1;2.2;2.3},{"a";"a";"b";"b";"a";"a";"b";"b"},{"x";"x";"x";"x";"y";"y";"y";"y"},,"sd",3)',
    gives: [[0.1224744871]],
  },
});

declare({
  name: 'ANGLETEST',
  summary: 'Do the high points gather at one angle?',
  notes: [
    'Angles counted from the shaft’s mark show a fault of the bench, angles from the valve one of the rim or of fitting habit.',
    'A blank cell reaches a worksheet function as 0. Write IF(range="","",range) so that it counts as missing.',
  ],
  arguments: {angles: measured('angles in degrees')},
  parts: {
    mean: part('circular mean', '°', 'the angles cancel each other'),
    length: part('mean resultant length, 0 (all around) to 1 (all the same)', ''),
    p: part('probability of this by chance alone', ''),
  },
  answer: ({angles}) => {
    if (angles.present === 0) throw unavailable('at least one angle is needed', 'angles');
    return angleTest(Array.from(angles.values.subarray(0, angles.positions)).filter((a) => !Number.isNaN(a)));
  },
  working: async () => (await qualityWorking()).angleTestSteps,
  mathematics: 'x̄ = Σ(cos, sin)/n; length L = |x̄|; p = exp(√(1 + 4n + 4(n² − (nL)²)) − (1 + 2n)).',
  source: 'Rayleigh’s test with Zar’s approximation (Zar, Biostatistical Analysis, value from memory)',
  errors: ['#N/A: no angle; mean is #N/A when the angles cancel'],
  example: {
    formula: '=WHEEL.ANGLETEST({43,45,52,61,75,88,88,279,357})',
    gives: [[51.05017711, 0.7109909989, 0.007036376316]],
  },
});

declare({
  name: 'RISK',
  summary: 'From the shop’s own records: how likely a vehicle comes back with this much left.',
  notes: [
    'Logistic regression with Firth’s correction, which stays finite where a limit parts good from bad; the interval is Wald’s, on the scale of log odds.',
  ],
  arguments: {
    amounts: measured('runout or unbalance left, of each vehicle'),
    cameBack: optionalFlags('TRUE where it came back'),
    at: amount('amount at which the risk is wanted'),
  },
  parts: {
    risk: part('probability of a comeback', ''),
    low: part('low end of its 95 % interval', ''),
    high: part('high end of its 95 % interval', ''),
  },
  answer: ({amounts, cameBack, at}) => {
    if (cameBack.length !== amounts.positions) {
      throw invalid(
        `as many cells as amounts has are wanted, ${amounts.positions}, found ${cameBack.length}`,
        'cameBack',
      );
    }
    const known = cameBack.flatMap((flag, i) =>
      flag === undefined || Number.isNaN(amounts.values[i]) ? [] : [{value: amounts.values[i], flag}],
    );
    if (known.length < 3)
      throw unavailable(`at least 3 records with amount and outcome are needed, ${known.length} present`, 'amounts');
    return riskAt(
      logistic(
        known.map((k) => k.value),
        known.map((k) => k.flag),
      ),
      at,
    );
  },
  working: async () => (await riskWorking()).riskSteps,
  mathematics:
    'log odds = a + b·amount; a, b at the maximum of log likelihood + ½·log det I, of several the highest that is found; risk at `at` with Wald’s interval on the scale of log odds.',
  source: 'Firth 1993; Heinze and Schemper 2002 (values from memory)',
  errors: [
    '#N/A: fewer than three complete records, or records that do not tell how the risk grows',
    '#VALUE!: all amounts are the same',
  ],
  example: {
    formula: '=WHEEL.RISK({0.1;0.2;0.2;0.3;0.4;0.5;0.6;0.7},{FALSE;FALSE;FALSE;FALSE;TRUE;FALSE;TRUE;TRUE},0.45)',
    gives: [[0.4826391652, 0.1341607587, 0.8488638797]],
  },
});
