/** The weights of a choice as formulas over the record's own cells. */
import {cellAddress} from '../../workbook/addresses';
import {figure, label, type Block, type BlockCell} from '../../workbook/block';
import type {LedgerRecord} from '../../workbook/ledger';
import {roleReference} from '../../workbook/references';
import {samePlanes, type Needed, type WeightChoice} from './weightsModel';

interface Corner {
  readonly row: number;
  readonly column: number;
}

/** Rows of the block before its first weight. */
const HEAD = 3;

/**
 * The block with its upper left corner at a cell: what is required in the chosen planes, what to fit, what that leaves.
 * Undefined when the ledger does not hold what the formulas need.
 */
export function weightsBlock(
  record: LedgerRecord,
  title: string,
  need: Needed,
  choice: WeightChoice,
  corner: Corner,
): Block | undefined {
  const unbalance = roleReference(record, 'Unbalance');
  const from = roleReference(record, 'Planes');
  if (unbalance === undefined || from === undefined) return undefined;
  const {massUnit: mass, lengthUnit: length} = need;
  const massFormat = mass === 'oz' ? '0.00' : '0.0';
  const lengthFormat = length === 'in' ? '0.00' : '0.0';
  const at = (row: number, column: number): string => cellAddress(corner.row + row, corner.column + column);
  const range = (rows: readonly [number, number], columns: readonly [number, number]): string =>
    `${at(rows[0], columns[0])}:${at(rows[1], columns[1])}`;
  const stepRow = 1;
  const step = `${at(stepRow, 1)}`;
  const stepReference = roleReference(record, 'Stock step');
  const exact = choice.exact || need.step === 0;

  const row = (name: string, amount: string, angle: string, plane: readonly BlockCell[]): BlockCell[] => [
    label(name),
    figure(amount, massFormat),
    figure(angle, '0'),
    ...plane,
  ];
  const typed = (position: number, radius: number): BlockCell[] => [
    figure(position, lengthFormat),
    figure(radius, lengthFormat),
  ];
  const above = (source: number): BlockCell[] => [
    figure(`=${at(source, 3)}`, lengthFormat),
    figure(`=${at(source, 4)}`, lengthFormat),
  ];

  const first = HEAD;
  const body: BlockCell[][] = [];
  if (choice.fitting === 'one plane') {
    const one = (part: string): string =>
      `WHEEL.ONEPLANE(${unbalance},${from},${range([first, first], [3, 4])},"${part}")`;
    body.push(
      row('Required', `=${one('amount')}`, `=${one('angle')}`, typed(choice.single.position, choice.single.radius)),
      row(
        'To fit',
        exact ? `=${at(first, 1)}` : `=WHEEL.STOCK(${at(first, 1)},${step})`,
        `=${at(first, 2)}`,
        above(first),
      ),
      // A single row of four cells would be read as two vectors.
      [label('No second weight'), figure(0, massFormat), figure(0, '0'), ...above(first)],
    );
    body.push(...left([first + 1, first + 2]));
  } else {
    const moved = !samePlanes(choice.planes, need.planes);
    const planes = range([first, first + 1], [3, 4]);
    const required = (side: 0 | 1, part: 'amount' | 'angle'): string => {
      if (!moved) return `=INDEX(${unbalance},1,${2 * side + (part === 'amount' ? 1 : 2)})`;
      const name = `${['inboard', 'outboard'][side]}${part === 'angle' ? 'angle' : ''}`;
      return `=WHEEL.TRANSFER(${unbalance},${from},${planes},"${name}")`;
    };
    const plane = (side: 0 | 1): BlockCell[] => {
      const {position, radius} = choice.planes[side];
      if (moved) return typed(position, radius);
      return [1, 2].map((i) => figure(`=INDEX(${from},1,${2 * side + i})`, lengthFormat));
    };
    body.push(
      row('Required inboard', required(0, 'amount'), required(0, 'angle'), plane(0)),
      row('Required outboard', required(1, 'amount'), required(1, 'angle'), plane(1)),
    );
    if (choice.fitting === 'two planes') {
      const vectors = range([first, first + 1], [1, 2]);
      const stock = (part: string): string => `=WHEEL.STOCKPAIR(${vectors},${planes},${step},"${part}")`;
      (['inboard', 'outboard'] as const).forEach((side, i) =>
        body.push(
          exact
            ? row(`To fit ${side}`, `=${at(first + i, 1)}`, `=${at(first + i, 2)}`, above(first + i))
            : row(`To fit ${side}`, stock(side), stock(`${side}angle`), above(first + i)),
        ),
      );
      body.push(...left([first + 2, first + 3]));
    } else {
      const spokesRow = first + 2;
      const spokes = (part: string): string =>
        `=WHEEL.SPOKES(${range([first + 1, first + 1], [1, 2])},${at(spokesRow, 1)},${at(spokesRow, 2)},${exact ? '0' : step},"${part}")`;
      body.push(
        [label('Spokes: how many, first at °'), figure(choice.spokes, '0'), figure(choice.firstSpoke, '0')],
        row(
          'To fit inboard',
          exact ? `=${at(first, 1)}` : `=WHEEL.STOCK(${at(first, 1)},${step})`,
          `=${at(first, 2)}`,
          above(first),
        ),
        row('To fit outboard, first spoke', spokes('massa'), spokes('anglea'), above(first + 1)),
        row('To fit outboard, next spoke', spokes('massb'), spokes('angleb'), above(first + 1)),
      );
      body.push(...left([first + 3, first + 5]));
    }
  }
  return [
    [label(title, true)],
    [
      label(`Stock step ${mass}`),
      figure(exact ? 0 : stepReference === undefined ? need.step : `=${stepReference}`, massFormat),
    ],
    [
      label('', true),
      label(mass, true),
      label('°', true),
      label(`position ${length}`, true),
      label(`radius ${length}`, true),
    ],
    ...body,
  ];

  function left(rows: readonly [number, number]): BlockCell[][] {
    const part = (name: string): string => `=WHEEL.RESIDUAL(${unbalance},${range(rows, [1, 4])},${from},"${name}")`;
    return [
      [label(`Left static ${mass}·${length}`), figure(part('static'), '0'), figure(part('staticangle'), '0')],
      [label(`Left couple ${mass}·${length}²`), figure(part('couple'), '0'), figure(part('coupleangle'), '0')],
    ];
  }
}
