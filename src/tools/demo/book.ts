/** Lays the demo ledger out as a workbook; formulas are as a person would write them. */
import ExcelJS from 'exceljs';
import {MAP_HEADINGS, MAP_SHEET, MAP_TABLE, mapRows} from '../../workbook/ledgerMap';
import {startedMap} from '../../workbook/ledgerSettings';
import {COLUMNS, columnIndex, typed} from './columns';
import type {DrawnWheel} from './draw';
import {FLEET, LIMITS} from './fleet';
import {PRICES, SENSITIVITIES, STARTING_TEXT, WHEEL_MASSES} from './settings';
import {SIGNED_RECORDS} from './signed';

/** A formula cell that computes over arrays; spill is the height of what it spills, where it does. */
export interface ArrayCell {
  readonly sheet: string;
  readonly cell: string;
}

export interface DemoBook {
  readonly book: ExcelJS.Workbook;
  readonly arrays: readonly ArrayCell[];
}

/** Row of the table's headings on the Wheels sheet, from 1. */
export const HEADER_ROW = 3;

/** @param kept the fingerprints of the signed records, from the first */
export function layOut(wheels: readonly DrawnWheel[], kept: readonly string[] = []): DemoBook {
  const book = new ExcelJS.Workbook();
  book.created = book.modified = FLEET[0].date;
  book.creator = 'Wheel Ledger';
  const arrays: ArrayCell[] = [];
  start(book);
  wheelsSheet(book, wheels, arrays);
  settings(book);
  findings(book, wheels, arrays);
  remounts(book, wheels, arrays);
  tolerances(book, arrays);
  signedRecords(book, wheels, kept, arrays);
  return {book, arrays};
}

function start(book: ExcelJS.Workbook): void {
  const sheet = book.addWorksheet('Start', {views: [{showGridLines: false}]});
  sheet.getColumn(1).width = 110;
  STARTING_TEXT.forEach((text, i) => {
    const cell = sheet.getCell(i + 1, 1);
    cell.value = text;
    cell.alignment = {wrapText: true, vertical: 'top'};
    if (i === 0) cell.font = {bold: true, size: 16};
  });
}

const formula = (text: string): ExcelJS.CellFormulaValue => ({formula: text}) as ExcelJS.CellFormulaValue;

const letter = (index: number): string => {
  const rest = Math.floor(index / 26);
  return (rest > 0 ? letter(rest - 1) : '') + String.fromCharCode(65 + (index % 26));
};

const cellAt = (column: number, row: number): string => `${letter(column)}${row}`;

function title(sheet: ExcelJS.Worksheet, text: string, note: string): void {
  sheet.getCell('A1').value = text;
  sheet.getCell('A1').font = {bold: true, size: 14};
  sheet.getCell('A2').value = note;
  sheet.getCell('A2').font = {italic: true, color: {argb: 'FF595959'}};
}

function wheelsSheet(book: ExcelJS.Workbook, wheels: readonly DrawnWheel[], arrays: ArrayCell[]): void {
  const sheet = book.addWorksheet('Wheels', {views: [{state: 'frozen', xSplit: 5, ySplit: HEADER_ROW}]});
  title(
    sheet,
    'Wheels',
    'Readings in mm at sixteen even positions from the valve hole: A assembly, I inboard bead seat, O outboard bead seat. Unbalance as what to add, in g, and where.',
  );
  addTable(
    sheet,
    'Wheels',
    HEADER_ROW,
    COLUMNS.map(({name}) => name),
    wheels.map((wheel) =>
      COLUMNS.map((column) =>
        column.formula === undefined ? (typed(column, wheel) ?? null) : formula(column.formula),
      ),
    ),
  );
  COLUMNS.forEach(({width, format, overRange}, i) => {
    const column = sheet.getColumn(i + 1);
    column.width = width;
    for (let row = 1; row <= wheels.length; row++) {
      const cell = sheet.getCell(HEADER_ROW + row, i + 1);
      if (format !== undefined) cell.numFmt = format;
      if (overRange) arrays.push({sheet: 'Wheels', cell: cell.address});
    }
  });
}

function addTable(
  sheet: ExcelJS.Worksheet,
  name: string,
  row: number,
  columns: readonly string[],
  rows: unknown[][],
): void {
  sheet.addTable({
    name,
    ref: `A${row}`,
    headerRow: true,
    style: {theme: 'TableStyleLight1', showRowStripes: true},
    columns: columns.map((column) => ({name: column, filterButton: true})),
    rows,
  });
}

function settings(book: ExcelJS.Workbook): void {
  const limits = book.addWorksheet('Limits');
  title(
    limits,
    'Limits',
    'Runout in mm, peak-to-peak; stock step in g. Assembly limits and steps are common practice, the others this shop’s own choice.',
  );
  addTable(
    limits,
    'Limits',
    3,
    ['Class', 'Assembly', 'Rim', 'Curve', 'Stock step'],
    LIMITS.map((l) => [l.class, l.assembly, l.rim, l.curve, l.stepGrams]),
  );
  widths(limits, [14, 12, 12, 12, 12]);

  const prices = book.addWorksheet('Prices');
  title(prices, 'Prices', 'Invented, in a currency of no country.');
  addTable(
    prices,
    'Prices',
    3,
    ['Item', 'Value', 'Unit'],
    PRICES.map((p) => [...p]),
  );
  widths(prices, [44, 10, 16]);

  const positions = book.addWorksheet('Positions');
  title(
    positions,
    'Positions',
    'How much the driver feels a wheel at each position; 1 is least. Common practice: worst assembly to the rear, farthest from the driver.',
  );
  addTable(
    positions,
    'Positions',
    3,
    ['Class', 'Position', 'Sensitivity'],
    SENSITIVITIES.map((p) => [...p]),
  );
  widths(positions, [14, 12, 12]);

  const planes = book.addWorksheet('Planes');
  title(
    planes,
    'Planes',
    'Correction planes in mm: position along the axle from the middle of the rim, + outboard; radius of the weights.',
  );
  addTable(
    planes,
    'Planes',
    3,
    ['Class', 'Inboard position', 'Inboard radius', 'Outboard position', 'Outboard radius'],
    LIMITS.map((l) => [l.class, ...l.planes]),
  );
  widths(planes, [14, 17, 17, 17, 17]);

  const map = book.addWorksheet(MAP_SHEET);
  title(
    map,
    'Ledger map',
    'Which columns hold what. Wheel Ledger reads this table; change it when you rename or move columns.',
  );
  addTable(map, MAP_TABLE, 3, MAP_HEADINGS, mapRows(startedMap('metric')));
  widths(map, [22, 14, 34, 16]);
}

function widths(sheet: ExcelJS.Worksheet, list: readonly number[]): void {
  list.forEach((width, i) => (sheet.getColumn(i + 1).width = width));
}

/** What the records say together; and one column outside the table, by one call for all rows. */
function findings(book: ExcelJS.Workbook, wheels: readonly DrawnWheel[], arrays: ArrayCell[]): void {
  const sheet = book.addWorksheet('Findings');
  title(
    sheet,
    'Findings',
    'Second harmonic of every assembly by one call of EACHROW; and which supplier’s tires had to be replaced.',
  );
  const heads = ['Job', 'Position', 'Second harmonic mm', '', 'Supplier', 'Replaced', 'Tires', 'Share', 'Low', 'High'];
  heads.forEach((text, i) => {
    sheet.getCell(3, i + 1).value = text;
    sheet.getCell(3, i + 1).font = {bold: true};
  });
  wheels.forEach((_, i) => {
    const row = 4 + i;
    ['Job', 'Position'].forEach((name, c) => {
      sheet.getCell(row, c + 1).value = formula(`Wheels!${cellAt(columnIndex(name), HEADER_ROW + 1 + i)}`);
    });
    sheet.getCell(row, 3).numFmt = '0.000';
  });
  const readings = 'Wheels[[A1]:[A16]]';
  const write = (cell: string, text: string): void => {
    sheet.getCell(cell).value = formula(text);
    arrays.push({sheet: 'Findings', cell});
  };
  write('C4', `WHEEL.EACHROW("HARMONIC",IF(${readings}="","",${readings}),2,,"amount")`);
  write('E4', 'WHEEL.GROUPRATE(Wheels[Supplier],Wheels[Finding]="replace tire")');
  for (let row = 4; row < 8; row++) for (const column of [8, 9, 10]) sheet.getCell(row, column).numFmt = '0 %';
  widths(sheet, [9, 11, 20, 4, 24, 10, 8, 8, 8, 8]);
}

/** What balance quality leaves to be felt at speed, by class. */
function tolerances(book: ExcelJS.Workbook, arrays: ArrayCell[]): void {
  const sheet = book.addWorksheet('Tolerances');
  title(
    sheet,
    'Tolerances',
    'Residual unbalance that grade G 40 (ISO 21940-11: wheels of cars) allows, and the force of the step of stock weights at the rim. Masses and speeds are this demo shop’s own.',
  );
  const heads = [
    'Class',
    'Mass kg',
    'Speed km/h',
    'Circumference mm',
    'Allowed g·mm',
    'Radius mm',
    'Step g',
    'Force N',
  ];
  heads.forEach((text, i) => {
    sheet.getCell(3, i + 1).value = text;
    sheet.getCell(3, i + 1).font = {bold: true};
  });
  WHEEL_MASSES.forEach(([name, mass, speed, circumference], i) => {
    const row = 4 + i;
    [name, mass, speed, circumference].forEach((value, c) => (sheet.getCell(row, c + 1).value = value));
    const write = (column: number, text: string, format: string, overRange = true): void => {
      const cell = sheet.getCell(row, column);
      cell.value = formula(text);
      cell.numFmt = format;
      if (overRange) arrays.push({sheet: 'Tolerances', cell: cell.address});
    };
    write(5, `WHEEL.TOLERANCE(40,B${row},C${row},D${row},"metric")`, '0');
    write(6, `INDEX(Planes[Outboard radius],MATCH(A${row},Planes[Class],0))`, '0', false);
    write(7, `INDEX(Limits[Stock step],MATCH(A${row},Limits[Class],0))`, '0', false);
    write(8, `WHEEL.FORCE(G${row},F${row},C${row},D${row},"metric")`, '0.0');
  });
  widths(sheet, [14, 10, 12, 18, 14, 11, 8, 9]);
}

/** The first records, signed: what was typed for each wheel must stay as it was. */
function signedRecords(
  book: ExcelJS.Workbook,
  wheels: readonly DrawnWheel[],
  kept: readonly string[],
  arrays: ArrayCell[],
): void {
  const sheet = book.addWorksheet('Signed');
  title(
    sheet,
    'Signed records',
    'The fingerprint of what was typed for a wheel, and the one kept at sign-off, each with that of the record before. A change of the record shows.',
  );
  const heads = ['Job', 'Position', 'Fingerprint', 'Kept at sign-off', 'Still fits'];
  heads.forEach((text, i) => {
    sheet.getCell(3, i + 1).value = text;
    sheet.getCell(3, i + 1).font = {bold: true};
  });
  const last = letter(COLUMNS.findIndex((column) => column.formula !== undefined) - 1);
  wheels.slice(0, SIGNED_RECORDS).forEach((_, i) => {
    const [row, of] = [4 + i, HEADER_ROW + 1 + i];
    ['Job', 'Position'].forEach((name, c) => {
      sheet.getCell(row, c + 1).value = formula(`Wheels!${cellAt(columnIndex(name), of)}`);
    });
    const record = `Wheels!A${of}:${last}${of}`;
    const before = i === 0 ? '' : `,D${row - 1}`;
    sheet.getCell(row, 3).value = formula(`WHEEL.FINGERPRINT(IF(${record}="","",${record})${before})`);
    sheet.getCell(row, 4).value = kept[i] ?? null;
    sheet.getCell(row, 4).numFmt = '@';
    sheet.getCell(row, 5).value = formula(`IF(D${row}="","",C${row}=D${row})`);
    arrays.push({sheet: 'Signed', cell: `C${row}`});
  });
  widths(sheet, [9, 11, 22, 22, 11]);
}

/** The wheel that was clamped off center: measured again, turned by half a turn on the shaft. */
function remounts(book: ExcelJS.Workbook, wheels: readonly DrawnWheel[], arrays: ArrayCell[]): void {
  const index = wheels.findIndex(({story}) => story === 'mounting error');
  const row = HEADER_ROW + 1 + index;
  const sheet = book.addWorksheet('Remounts');
  title(
    sheet,
    'Remounts',
    'A rim that looked out of round: clamped again, turned by 180° on the shaft, the error of the clamping comes apart from the wheel.',
  );
  const second = secondClamping(wheels[index]);
  const lines: [string, string | number, string | number, string][] = [
    ['Wheel', '', '', ''],
    ['First clamping, rim', 'amount', 'angle', ''],
    ['Second clamping, rim', 'amount', 'angle', ''],
    ['Wheel itself', 'amount', 'angle', ''],
    ['Error of the clamping', 'amount', 'angle', ''],
  ];
  lines.forEach(([text], i) => (sheet.getCell(4 + i, 1).value = text));
  ['mm', '°'].forEach((text, i) => {
    sheet.getCell(3, 2 + i).value = text;
    sheet.getCell(3, 2 + i).font = {bold: true};
  });
  const seats = (letters: string): string => {
    const range = `Wheels!${cellAt(columnIndex(`${letters}1`), row)}:${cellAt(columnIndex(`${letters}16`), row)}`;
    return `WHEEL.HARMONIC(IF(${range}="","",${range}))`;
  };
  const write = (cell: string, text: string): void => {
    sheet.getCell(cell).value = formula(text);
    arrays.push({sheet: 'Remounts', cell});
  };
  sheet.getCell('B4').value = formula(
    `Wheels!${cellAt(columnIndex('Job'), row)}&" "&Wheels!${cellAt(columnIndex('Position'), row)}`,
  );
  write('B5', `WHEEL.BEADSEATS(${seats('I')},${seats('O')},"amount")`);
  write('C5', `WHEEL.BEADSEATS(${seats('I')},${seats('O')},"angle")`);
  sheet.getCell('B6').value = second.amount;
  sheet.getCell('C6').value = second.angle;
  write('B7', 'WHEEL.REMOUNT(B5:C5,B6:C6,180,"amount")');
  write('C7', 'WHEEL.REMOUNT(B5:C5,B6:C6,180,"angle")');
  write('B8', 'WHEEL.REMOUNT(B5:C5,B6:C6,180,"error")');
  write('C8', 'WHEEL.REMOUNT(B5:C5,B6:C6,180,"errorangle")');
  for (let r = 5; r <= 8; r++) {
    sheet.getCell(r, 2).numFmt = '0.000';
    sheet.getCell(r, 3).numFmt = '0';
  }
  widths(sheet, [26, 12, 12]);
}

/** What the second clamping shows of the rim: its own runout, and the clamping's error half a turn on. */
function secondClamping({rim, clamping}: DrawnWheel): {amount: number; angle: number} {
  const at = (degrees: number) => degrees * (Math.PI / 180);
  const x = rim[0].amount * Math.cos(at(rim[0].angle)) - clamping.amount * Math.cos(at(clamping.angle));
  const y = rim[0].amount * Math.sin(at(rim[0].angle)) - clamping.amount * Math.sin(at(clamping.angle));
  return {
    amount: Math.round(1000 * Math.hypot(x, y)) / 1000,
    angle: Math.round((Math.atan2(y, x) * 180) / Math.PI + 360) % 360,
  };
}
