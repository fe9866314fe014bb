export interface MatchCosts {
  readonly weightBefore: number;
  readonly weightAfter: number;
  /** Price per mass. */
  readonly weightPrice: number;
  readonly minutes: number;
  /** Price per hour. */
  readonly laborRate: number;
  readonly riskBefore: number;
  readonly riskAfter: number;
  readonly comebackCost: number;
}

export interface MatchValue {
  readonly saved: number;
  readonly weightsaving: number;
  readonly labor: number;
  readonly riskaverted: number;
  readonly net: number;
  /** Minutes at which net is 0; undefined where no time, or any time, would do. */
  readonly breakeven: number | undefined;
}

/** What a match is worth: weight saved and comebacks averted, less labor. */
export function matchValue(c: MatchCosts): MatchValue {
  const saved = c.weightBefore - c.weightAfter;
  const weightsaving = saved * c.weightPrice;
  const labor = (c.minutes / 60) * c.laborRate;
  const riskaverted = (c.riskBefore - c.riskAfter) * c.comebackCost;
  const gain = weightsaving + riskaverted;
  return {
    saved,
    weightsaving,
    labor,
    riskaverted,
    net: gain - labor,
    breakeven: gain < 0 || c.laborRate === 0 ? undefined : (60 * gain) / c.laborRate,
  };
}

/** The action with the least cost + risk · comebackCost, from 0, the earlier of equals; and that cost. */
export function cheapest(costs: readonly number[], risks: readonly number[], comebackCost: number) {
  const expected = costs.map((cost, i) => cost + risks[i] * comebackCost);
  const choice = expected.indexOf(Math.min(...expected));
  return {choice, expected: expected[choice]};
}
