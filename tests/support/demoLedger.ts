/** The demo's ledger as the pane reads it, from the headless host instead of Excel. */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import type {Workbook} from '../../src/host/book/workbook';
import {cellAddress} from '../../src/workbook/addresses';
import {contents, type Block} from '../../src/workbook/block';
import {recordOf, type CellValue, type Ledger, type LedgerRecord, type LookedUp} from '../../src/workbook/ledger';
import {ledgerColumns} from '../../src/workbook/ledgerColumns';
import {startedMap} from '../../src/workbook/ledgerSettings';
import {drawWheels} from '../../src/tools/demo/draw';

export const demoBytes = new Uint8Array(readFileSync(path.join(__dirname, '../../assets/demo.xlsx')));

const HEADER_ROW = 2;
const headings = ledgerColumns('metric').map(({name}) => name);

export const demoLedger: Ledger = {
  map: startedMap('metric'),
  headings,
  body: {sheet: 'Wheels', row: HEADER_ROW + 1, column: 0, rows: drawWheels().length, columns: headings.length},
};

const cellOf = (workbook: Workbook, sheet: string, row: number, column: number): CellValue => {
  const value = workbook.at(sheet, row, column);
  return value === null ? '' : typeof value === 'object' ? value.code : value;
};

function tableOf(workbook: Workbook, sheet: string, columns: number): LookedUp {
  const line = (row: number): CellValue[] => Array.from({length: columns}, (_, c) => cellOf(workbook, sheet, row, c));
  const rows: CellValue[][] = [];
  for (let row = HEADER_ROW + 1; cellOf(workbook, sheet, row, 0) !== ''; row++) rows.push(line(row));
  return {headings: line(HEADER_ROW).map(String), rows};
}

/** All records of the demo. */
export function demoRecords(workbook: Workbook): LedgerRecord[] {
  const tables = new Map([
    ['Limits', tableOf(workbook, 'Limits', 5)],
    ['Planes', tableOf(workbook, 'Planes', 5)],
  ]);
  return Array.from({length: demoLedger.body.rows}, (_, index) =>
    recordOf(
      demoLedger,
      index,
      headings.map((_, c) => cellOf(workbook, 'Wheels', demoLedger.body.row + index, c)),
      tables,
    ),
  );
}

/** Prices and positions of the demo, as tables. */
export const demoPrices = (workbook: Workbook): LookedUp => tableOf(workbook, 'Prices', 3);
export const demoPositions = (workbook: Workbook): LookedUp => tableOf(workbook, 'Positions', 3);

/** Writes a block as the pane would and calculates it. */
export async function calculated(
  workbook: Workbook,
  sheet: string,
  corner: {row: number; column: number},
  block: Block,
): Promise<CellValue[][]> {
  const cells = contents(block);
  cells.forEach((row, r) =>
    row.forEach((content, c) => workbook.set(sheet, cellAddress(corner.row + r, corner.column + c), content)),
  );
  await workbook.update();
  return cells.map((row, r) =>
    row.map((_, c) => {
      const value = workbook.at(sheet, corner.row + r, corner.column + c);
      return value === null ? '' : typeof value === 'object' ? `${value.code} ${value.message ?? ''}` : value;
    }),
  );
}
