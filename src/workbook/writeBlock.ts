/** Writing a block into free cells: looking first, asking about what is there, and taking it back. */
import {areaAddress, cellAddress, type Area} from './addresses';
import {batch} from './batch';
import {blockSize, contents, type Block} from './block';
import {withSequel, WorkbookProblem} from './problems';
import type {InTheWay} from './insert';

/** What stood in the cells before, so that it can be put back. */
export interface Written {
  readonly area: Area;
  readonly before: Before;
}

interface Before {
  readonly formulas: unknown[][];
  readonly formats: unknown[][];
  /** Of the cells that the block makes bold: where they are, and whether they were so before. */
  readonly bold: readonly {readonly row: number; readonly column: number; readonly was: boolean}[];
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
 * @throws WorkbookProblem when another cell is filled; nothing is written then. When Excel fails meanwhile it says
 * whether the cells hold again what they held before.
 */
export async function writeBlock(area: Area, block: Block, agreed: readonly InTheWay[] = []): Promise<Written> {
  const size = blockSize(block);
  const target = {...area, ...size};
  return batch(async (context) => {
    const range = rangeOf(context, target);
    range.load('formulas,numberFormat');
    const fonts = block.flatMap((cells, row) =>
      cells.flatMap(({bold}, column) => {
        if (!bold) return [];
        const {font} = range.getCell(row, column).format;
        font.load('bold');
        return [{row, column, font}];
      }),
    );
    await context.sync();
    const surprise = filled(range.formulas, target).find(
      ({address, content}) => !agreed.some((known) => known.address === address && known.content === content),
    );
    if (surprise !== undefined) {
      throw new WorkbookProblem(
        `${surprise.address} holds “${surprise.content}”, so nothing was written. Choose other cells, or agree to replace it.`,
      );
    }
    const before: Before = {
      formulas: range.formulas,
      formats: range.numberFormat,
      bold: fonts.map(({row, column, font}) => ({row, column, was: font.bold})),
    };
    range.formulas = contents(block);
    range.numberFormat = before.formats.map((row, r) =>
      row.map((format: unknown, c: number) => block[r][c]?.format ?? format),
    );
    for (const {font} of fonts) font.bold = true;
    await context.sync().catch(async (error: unknown) => {
      throw withSequel(error, await restored(context, range, before, target));
    });
    return {area: target, before};
  });
}

/** Puts back what stood in the cells before a block was written. */
export async function takeBack({area, before}: Written): Promise<void> {
  await batch(async (context) => {
    putBack(rangeOf(context, area), before);
    await context.sync();
  });
}

function putBack(range: Excel.Range, {formulas, formats, bold}: Before): void {
  range.numberFormat = formats as string[][];
  range.formulas = formulas as string[][];
  for (const {row, column, was} of bold) range.getCell(row, column).format.font.bold = was;
}

/** Puts back what the cells held, and says whether that succeeded. */
async function restored(
  context: Excel.RequestContext,
  range: Excel.Range,
  before: Before,
  area: Area,
): Promise<string> {
  let written = `${areaAddress(area)} may be written in part: look there before you try again.`;
  try {
    range.load('formulas,numberFormat');
    await context.sync();
    const changed = before.formulas.flatMap((cells, r) =>
      cells.flatMap((cell, c) => (range.formulas[r][c] === cell ? [] : [cellAddress(area.row + r, area.column + c)])),
    );
    if (changed.length > 0) written = `Written all the same: ${changed.join(', ')}.`;
    const isUntouched = changed.length === 0 && JSON.stringify(range.numberFormat) === JSON.stringify(before.formats);
    if (!isUntouched) {
      putBack(range, before);
      await context.sync();
    }
    return `${areaAddress(area)} holds what it held before.`;
  } catch {
    return written;
  }
}
