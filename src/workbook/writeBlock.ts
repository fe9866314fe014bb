/** Writing a block into free cells: looking first, asking about what is there, and taking it back. */
import {cellAddress, type Area} from './addresses';
import {batch} from './batch';
import {blockSize, contents, type Block} from './block';
import type {CellValue} from './ledger';
import {WorkbookProblem} from './problems';
import type {InTheWay} from './insert';

/** What stood in the cells before, so that it can be put back. */
export interface Written {
  readonly area: Area;
  readonly values: readonly (readonly CellValue[])[];
  readonly before: {readonly formulas: unknown[][]; readonly formats: unknown[][]};
}

const rangeOf = (context: Excel.RequestContext, {sheet, row, column, rows, columns}: Area): Excel.Range =>
  context.workbook.worksheets.getItem(sheet).getRangeByIndexes(row, column, rows, columns);

const filled = (formulas: readonly (readonly unknown[])[], {row, column}: Area): InTheWay[] =>
  formulas.flatMap((cells, r) =>
    cells.flatMap((cell, c) =>
      cell === '' ? [] : [{address: cellAddress(row + r, column + c), content: String(cell)}],
    ),
  );

/** The cells of an area that hold something. */
export async function filledCells(area: Area): Promise<InTheWay[]> {
  return batch(async (context) => {
    const range = rangeOf(context, area);
    range.load('formulas');
    await context.sync();
    return filled(range.formulas, area);
  });
}

/** A cell from where everything to the right and below is free: beside what the sheet holds, in a given row. */
export async function freeCell(sheet: string, row: number): Promise<Pick<Area, 'row' | 'column'>> {
  return batch(async (context) => {
    const used = context.workbook.worksheets.getItem(sheet).getUsedRangeOrNullObject(true);
    used.load('columnIndex,columnCount');
    await context.sync();
    return {row, column: used.isNullObject ? 0 : used.columnIndex + used.columnCount + 1};
  });
}

/**
 * Writes a block with its upper left corner at a cell. What fills the cells is looked at again just before; only the
 * cells that the person has agreed to are replaced.
 * @throws WorkbookProblem when another cell is filled; nothing is written then
 */
export async function writeBlock(area: Area, block: Block, agreed: readonly InTheWay[] = []): Promise<Written> {
  const size = blockSize(block);
  const target = {...area, ...size};
  return batch(async (context) => {
    const range = rangeOf(context, target);
    range.load('formulas,numberFormat');
    await context.sync();
    const surprise = filled(range.formulas, target).find(
      ({address, content}) => !agreed.some((known) => known.address === address && known.content === content),
    );
    if (surprise !== undefined) {
      throw new WorkbookProblem(
        `${surprise.address} holds “${surprise.content}”, so nothing was written. Choose other cells, or agree to replace it.`,
      );
    }
    const before = {formulas: range.formulas, formats: range.numberFormat};
    range.formulas = contents(block);
    range.numberFormat = before.formats.map((row, r) =>
      row.map((format: unknown, c: number) => block[r][c]?.format ?? format),
    );
    block.forEach((row, r) =>
      row.forEach(({bold}, c) => {
        if (bold) range.getCell(r, c).format.font.bold = true;
      }),
    );
    await context.sync();
    range.load('values');
    await context.sync();
    return {area: target, values: range.values as CellValue[][], before};
  });
}

/** Puts back what stood in the cells before a block was written. */
export async function takeBack({area, before}: Written): Promise<void> {
  await batch(async (context) => {
    const range = rangeOf(context, area);
    range.numberFormat = before.formats as string[][];
    range.formulas = before.formulas as string[][];
    await context.sync();
  });
}
