/** Workings of many calls written into one workbook: their inputs on one sheet, each working on a sheet of its own. */
import ExcelJS from 'exceljs';
import {isGrid, type Cell, type Grid, type OutCell, type Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {Refusal} from '../../maths/refusal';
import {workingAtOnce, writeWorking, type RangeOfSheet, type Working, type WorkingSheet} from '../../working/workingOf';

/** A name that must be quoted, with a quote in it. */
export const INPUTS_SHEET = 'Readings of O’Neil & Co. ‘A’';

/** What every formula seems to have given before it is calculated: nothing that could pass for a result. */
export const STALE = 987654321;

export interface WrittenCase {
  readonly declared: Declaration;
  readonly args: readonly Raw[];
  readonly working: Working;
  readonly sheetName: string;
  readonly sheet: WorkingSheet;
}

/** A call's place on the sheet of inputs. */
interface Placed {
  readonly ranges: ReadonlyMap<string, RangeOfSheet>;
  readonly answer: RangeOfSheet;
  readonly rows: number;
}

const asGrid = (raw: Raw): Grid => (isGrid(raw) ? raw : [[raw]]);

/** Arguments side by side from a row on, with an empty column between; behind them the function's answer. */
function place(declared: Declaration, args: readonly Raw[], answer: readonly (readonly OutCell[])[], row: number) {
  const ranges = new Map<string, RangeOfSheet>();
  const grids: {range: RangeOfSheet; cells: Grid}[] = [];
  let column = 0;
  let height = answer.length;
  const put = (name: string, raw: Raw): void => {
    if (raw === null || raw === undefined) return;
    const cells = asGrid(raw);
    const range = {sheet: INPUTS_SHEET, row, column, rows: cells.length, columns: cells[0].length};
    ranges.set(name, range);
    grids.push({range, cells});
    column += cells[0].length + 1;
    height = Math.max(height, cells.length);
  };
  args.forEach((raw, i) => {
    const argument = declared.arguments[i];
    if (argument.repeating) (raw as unknown as Raw[]).forEach((one, k) => put(`${argument.name} ${k + 1}`, one));
    else put(argument.name, raw);
  });
  const at = {sheet: INPUTS_SHEET, row, column, rows: answer.length, columns: answer[0].length};
  const placed: Placed = {ranges, answer: at, rows: height + 1};
  return {placed, grids};
}

export class AgreementBook {
  readonly #book = new ExcelJS.Workbook();
  readonly #inputs = this.#book.addWorksheet(INPUTS_SHEET);
  readonly cases: WrittenCase[] = [];
  readonly refused: string[] = [];
  #row = 0;

  /** Writes a call's working. The cells then may get `args` of another call, with the same formulas. */
  add(declared: Declaration, args: readonly Raw[], then: readonly Raw[] = args): void {
    const own = declared.evaluate(then);
    const {placed} = place(declared, args, declared.evaluate(args), this.#row);
    const working = workingAtOnce(declared.name, args, (argument) => placed.ranges.get(argument));
    const sheet = writeWorking(working, {
      title: `Working of WHEEL.${declared.name}`,
      note: 'Every figure is a formula of its own.',
      firstRow: 0,
      answer: placed.answer,
    });
    if ('refused' in sheet) {
      this.refused.push(sheet.refused);
      return;
    }
    const {grids} = place(declared, then, own, this.#row);
    for (const {range, cells} of grids) this.#write(range, cells);
    this.#write(placed.answer, own);
    this.#row += placed.rows;
    const sheetName = `${declared.name} ${this.cases.length}`;
    const target = this.#book.addWorksheet(sheetName);
    for (const {row, column, value, formula} of sheet.cells)
      target.getCell(row + 1, column + 1).value =
        formula === undefined ? (value as ExcelJS.CellValue) : {formula, result: STALE};
    this.cases.push({declared, args, working, sheetName, sheet});
  }

  #write({row, column}: RangeOfSheet, cells: readonly (readonly (Cell | OutCell)[])[]): void {
    cells.forEach((line, r) =>
      line.forEach((cell, c) => {
        if (cell === null || cell === undefined || cell === '') return;
        this.#inputs.getCell(row + r + 1, column + c + 1).value = (
          cell instanceof Refusal ? {error: '#N/A'} : cell
        ) as ExcelJS.CellValue;
      }),
    );
  }

  save(file: string): Promise<void> {
    return this.#book.xlsx.writeFile(file);
  }
}
