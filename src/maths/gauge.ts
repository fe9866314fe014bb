import {tailF} from './distributions';
import {squares} from './harmonics';
import {invalid, unavailable} from './refusal';

export interface GaugeRow {
  readonly source: string;
  readonly variance: number;
  readonly sd: number;
  readonly percent: number | undefined;
}

export interface GaugeRecord {
  readonly value: number;
  readonly part: string;
  readonly operator: string;
}

/** Above this p-value the interaction is pooled into repeatability (AIAG, Measurement Systems Analysis). */
const POOLING = 0.25;

/**
 * Crossed gauge study by analysis of variance: every operator measures every part the same number of times, at least
 * twice. Negative components are 0. Percent of the total sd, or, with a tolerance, of the tolerance taken as 6 sd.
 */
export function gauge(records: readonly GaugeRecord[], tolerance: number | undefined): GaugeRow[] {
  const parts = [...new Set(records.map((r) => r.part))];
  const operators = [...new Set(records.map((r) => r.operator))];
  const repeats = balanced(records, parts, operators);
  const [p, o, n] = [parts.length, operators.length, records.length];

  // Counted from the first value, so that a common level costs no digits.
  const values = records.map((r) => r.value - records[0].value);
  const mean = average(values);
  const means = (key: (r: GaugeRecord) => string): number[] => {
    const keys = records.map(key);
    const groups = new Map<string, {sum: number; count: number}>();
    keys.forEach((each, i) => {
      const {sum, count} = groups.get(each) ?? {sum: 0, count: 0};
      groups.set(each, {sum: sum + values[i], count: count + 1});
    });
    return keys.map((each) => groups.get(each)!.sum / groups.get(each)!.count);
  };
  const byCell = means((r) => JSON.stringify([r.part, r.operator]));
  const about = (of: readonly number[]): number => squares(of.map((m) => m - mean));
  const ssPart = about(means((r) => r.part));
  const ssOperator = about(means((r) => r.operator));
  const ssInteraction = about(byCell) - ssPart - ssOperator;
  const ssError = squares(values.map((v, i) => v - byCell[i]));
  const dfInteraction = (p - 1) * (o - 1);
  const dfError = n - p * o;

  const msInteraction = ssInteraction / dfInteraction;
  const significance =
    ssError > 0 ? tailF(msInteraction / (ssError / dfError), dfInteraction, dfError) : ssInteraction > 0 ? 0 : 1;
  const pooled = significance > POOLING;
  const repeatability = pooled ? (ssError + ssInteraction) / (dfError + dfInteraction) : ssError / dfError;
  const against = pooled ? repeatability : msInteraction;
  const component = (value: number): number => Math.max(0, value);
  const operator = component((ssOperator / (o - 1) - against) / (p * repeats));
  const interaction = pooled ? 0 : component((msInteraction - repeatability) / repeats);
  const part = component((ssPart / (p - 1) - against) / (o * repeats));
  const both = repeatability + operator + interaction;
  const total = both + part;
  return [
    [pooled ? 'repeatability (interaction pooled)' : 'repeatability', repeatability] as const,
    [pooled ? 'reproducibility' : 'reproducibility (with interaction)', operator + interaction] as const,
    ['gauge', both] as const,
    ['part', part] as const,
    ['total', total] as const,
  ].map(([source, variance]) => {
    const sd = Math.sqrt(variance);
    const of = tolerance === undefined ? Math.sqrt(total) : tolerance / 6;
    return {source, variance, sd, percent: of > 0 ? (100 * sd) / of : undefined};
  });
}

const average = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** How often every operator measured every part. */
function balanced(records: readonly GaugeRecord[], parts: readonly string[], operators: readonly string[]): number {
  if (parts.length < 2) throw unavailable('at least two parts are needed', 'parts');
  if (operators.length < 2) throw unavailable('at least two operators are needed', 'operators');
  const counts = new Map<string, number>();
  for (const {part, operator} of records) {
    const key = JSON.stringify([part, operator]);
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const repeats = counts.get(JSON.stringify([parts[0], operators[0]]))!;
  for (const part of parts) {
    for (const operator of operators) {
      const found = counts.get(JSON.stringify([part, operator])) ?? 0;
      if (found !== repeats) {
        throw invalid(
          `every operator must measure every part equally often: part "${parts[0]}" with operator "${operators[0]}" has ${repeats}, part "${part}" with operator "${operator}" has ${found}`,
          'values',
        );
      }
    }
  }
  if (repeats < 2) throw unavailable('at least two values of every part by every operator are needed', 'values');
  return repeats;
}
