/** The cost of a record or a job as formulas over the ledger and the table of prices. */
import {cellAddress} from '../../workbook/addresses';
import {figure, label, type Block, type BlockCell} from '../../workbook/block';
import type {LedgerRecord} from '../../workbook/ledger';
import {PRICE_ITEMS, priceReference, type PriceItem, type Prices} from '../../workbook/prices';
import {plainText} from '../../workbook/escape';
import {roleReference} from '../../workbook/references';
import type {Assumptions, CostCase} from './costModel';

const MONEY = '0.00';

const UNITS: Readonly<Record<PriceItem, (mass: string) => string>> = {
  weightPrice: (mass) => `per ${mass}`,
  laborRate: () => 'per hour',
  minutes: () => 'min a tire',
  comebackCost: () => 'each',
  riskBefore: () => 'probability',
  riskAfter: () => 'probability',
  weightLeft: () => 'share',
};

const RESULTS: readonly (readonly [string, string, string])[] = [
  ['saved', 'Weight saved', ''],
  ['weightsaving', 'What that weight costs', MONEY],
  ['riskaverted', 'Cost of comebacks averted', MONEY],
  ['labor', 'What the labor costs', MONEY],
  ['net', 'Net', MONEY],
  ['breakeven', 'Minutes at which net is 0', '0.0'],
];

/** All stock weights of a wheel as a formula; undefined when the ledger does not name the cells. */
function weightFormula(record: LedgerRecord): string | undefined {
  const [unbalance, planes, step] = (['Unbalance', 'Planes', 'Stock step'] as const).map((role) =>
    roleReference(record, role),
  );
  if (unbalance === undefined || planes === undefined) return undefined;
  if (step === undefined) return `INDEX(${unbalance},1,1)+INDEX(${unbalance},1,3)`;
  const part = (name: string): string => `WHEEL.STOCKPAIR(${unbalance},${planes},${step},"${name}")`;
  return `${part('inboard')}+${part('outboard')}`;
}

/**
 * The block with its upper left corner at a cell. Items that the table of prices has are looked up in it; what was
 * typed in the pane stands as a figure and says so.
 */
export function costBlock(
  of: CostCase,
  prices: Prices,
  assumptions: Assumptions,
  corner: {readonly row: number; readonly column: number},
): Block | undefined {
  const {wheels, massUnit} = of;
  const weights = wheels.map(({record, again}) => ({
    before: weightFormula(record),
    after: again && weightFormula(again.record),
  }));
  if (wheels.length === 0 || weights.some(({before}) => before === undefined)) return undefined;
  const massFormat = massUnit === 'oz' ? '0.00' : '0.0';
  const at = (row: number, column: number): string => cellAddress(corner.row + row, corner.column + column);
  const rows: BlockCell[][] = [
    [label(`Cost of turning: ${of.title}`, true)],
    [label('Assumption', true), label('Value', true), label('Unit', true)],
  ];
  const place = new Map<PriceItem, string>();
  for (const item of Object.keys(PRICE_ITEMS) as PriceItem[]) {
    place.set(item, at(rows.length, 1));
    const known = prices.has(item);
    rows.push([
      label(PRICE_ITEMS[item]),
      {content: known ? `=${priceReference(item)}` : assumptions[item]},
      label(`${UNITS[item](massUnit)}${known ? '' : ', assumed'}`),
    ]);
  }
  rows.push([label('Stock weights', true), label(`before ${massUnit}`, true), label(`after ${massUnit}`, true)]);
  const first = rows.length;
  wheels.forEach(({position}, i) => {
    const {before, after} = weights[i];
    const row = rows.length;
    rows.push([
      label(plainText(position)),
      figure(`=${before}`, massFormat),
      figure(after === undefined ? `=${at(row, 1)}*${place.get('weightLeft')}` : `=${after}`, massFormat),
    ]);
  });
  const last = rows.length - 1;
  const total = rows.length;
  const sum = (column: number): BlockCell => figure(`=SUM(${at(first, column)}:${at(last, column)})`, massFormat);
  rows.push([label('Together'), sum(1), sum(2)]);
  const minutes = rows.length;
  rows.push([label('Minutes, all tires'), figure(`=${place.get('minutes')}*${wheels.length}`, '0')]);
  rows.push([label('Is it worth it?', true)]);
  const list = [
    at(total, 1),
    at(total, 2),
    place.get('weightPrice'),
    at(minutes, 1),
    place.get('laborRate'),
    place.get('riskBefore'),
    place.get('riskAfter'),
    place.get('comebackCost'),
  ].join(',');
  for (const [part, name, format] of RESULTS) {
    rows.push([
      label(part === 'saved' ? `${name} ${massUnit}` : name, part === 'net'),
      figure(`=WHEEL.MATCHVALUE(${list},"${part}")`, format === '' ? massFormat : format),
    ]);
  }
  return rows;
}
