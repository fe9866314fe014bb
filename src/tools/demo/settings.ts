/** Settings and words of the demo ledger. */

/** Item, value, unit; invented. */
export const PRICES: readonly (readonly [string, number, string])[] = [
  ['Balance weight', 0.06, 'per g'],
  ['Labor', 72, 'per hour'],
  ['Minutes to turn a tire on its rim', 18, 'min'],
  ['Passenger tire', 110, 'each'],
  ['Light truck tire', 190, 'each'],
  ['Heavy tire', 410, 'each'],
  ['Vehicle that comes back', 160, 'each'],
  ['Risk of coming back as it is', 0.12, 'probability'],
  ['Risk of coming back after a match', 0.03, 'probability'],
];

/** Class, position, sensitivity. */
export const SENSITIVITIES: readonly (readonly [string, string, number])[] = [
  ...['passenger', 'light truck'].flatMap((kind) =>
    (
      [
        ['LF', 4],
        ['RF', 3],
        ['LR', 2],
        ['RR', 1],
      ] as const
    ).map(([position, value]) => [kind, position, value] as const),
  ),
  ...(
    [
      ['LF', 6],
      ['RF', 5],
      ['LR outer', 4],
      ['LR inner', 3],
      ['RR inner', 2],
      ['RR outer', 1],
    ] as const
  ).map(([position, value]) => ['heavy', position, value] as const),
];

/** Class; mass of the assembly in kg, road speed in km/h and rolling circumference in mm, this demo shop's own. */
export const WHEEL_MASSES: readonly (readonly [string, number, number, number])[] = [
  ['passenger', 18, 110, 1930],
  ['light truck', 32, 100, 2330],
  ['heavy', 95, 90, 3010],
];

export const STARTING_TEXT: readonly string[] = [
  'Ledger of the Tern Inlet ferry workshop',
  'Invented from end to end: no such district, vehicle, supplier, plant or person exists. The readings were drawn by a program from rims and tires whose true runout is known, so that what the formulas find can be held against it.',
  'Wheels holds a row for each wheel: what the clerk measured, then what the WHEEL functions make of it. Limits, Prices, Positions and Planes hold the shop’s own figures. Findings looks at all wheels together; Remounts takes one error of clamping apart; Tolerances says what balance quality allows; Signed holds the fingerprints of the first records.',
  'Limits are set by the shop. Those for the assembly, 0.018, 0.031 and 0.037 in, and the steps of the weights are common practice; no standard stands behind them.',
  'Caution. Demounting, inflating and heavy rims hurt people: trained people only, with the makers’ instructions and local rules. Large-vehicle rims need a restraining device and nobody in the trajectory (29 CFR 1910.177). Never inflate above the tire or rim maker’s maximum. After a match inspect bead and sensor and balance again. Wheel nuts by the vehicle maker’s figure, checked again after the first drive.',
];
