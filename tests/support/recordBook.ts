/** Record sheets put into a copy of the demo workbook, as a program other than Excel would have to. */
import ExcelJS from 'exceljs';
import {areaAddress, cellAddress} from '../../src/workbook/addresses';
import {layOut} from '../../src/tools/demo/book';
import {drawWheels} from '../../src/tools/demo/draw';
import {asFile} from '../../src/tools/demo/file';
import type {SheetPlan} from '../../src/workbook/record/plan';

/** What a planned cell shows. */
export type ValueOf = (sheet: string, row: number, column: number) => ExcelJS.CellValue;

/**
 * The demo with the sheets of these plans, all others hidden, so that a printout shows the records alone.
 * With values given, these stand in place of the formulas: other programs do not know the worksheet functions.
 */
export async function withRecords(plans: readonly SheetPlan[], values?: ValueOf): Promise<Uint8Array> {
  const {book, arrays: ledger} = layOut(drawWheels());
  book.eachSheet((sheet) => {
    sheet.state = 'hidden';
  });
  book.views = [{activeTab: book.worksheets.length} as ExcelJS.WorkbookView];
  const arrays: {sheet: string; cell: string}[] = [];
  for (const plan of plans) {
    const sheet = book.addWorksheet(plan.name, {
      pageSetup: {
        paperSize: plan.page.paper === 'a4' ? 9 : (1 as ExcelJS.PaperSize),
        orientation: 'portrait',
        fitToPage: true,
        fitToWidth: 1,
        fitToHeight: 1,
        // exceljs puts a $ before the columns alone; with these in the rows it is a full address.
        printArea: areaAddress(plan.page.area).replace(/([A-Z]+)(\d+)/g, '$1$$$2'),
        margins: {left: 0.4, right: 0.4, top: 0.6, bottom: 0.6, header: 0.3, footer: 0.3},
        horizontalCentered: true,
      },
      headerFooter: {oddHeader: `&L${plan.page.header}&R&D`, oddFooter: `&L${plan.page.footer}&RPage &P of &N`},
    });
    plan.widths.forEach((width, i) => (sheet.getColumn(i + 1).width = width));
    for (const {row, points} of plan.heights) sheet.getRow(row + 1).height = points;
    for (const {row, column, content} of plan.cells) {
      const cell = sheet.getCell(row + 1, column + 1);
      if (typeof content === 'string' && content.startsWith('=')) {
        if (values !== undefined) {
          cell.value = values(plan.name, row, column);
          continue;
        }
        cell.value = {formula: content.slice(1)} as ExcelJS.CellFormulaValue;
        if (/WHEEL/.test(content)) arrays.push({sheet: plan.name, cell: cellAddress(row, column)});
      } else cell.value = content;
    }
    const each = (
      {row, column, rows, columns}: {row: number; column: number; rows: number; columns: number},
      use: (cell: ExcelJS.Cell) => void,
    ): void => {
      for (let r = 0; r < rows; r++) for (let c = 0; c < columns; c++) use(sheet.getCell(row + r + 1, column + c + 1));
    };
    for (const {at, format} of plan.formats) each(at, (cell) => (cell.numFmt = format));
    for (const {at, bold, italic, size, wrap, align, top, line, merge} of plan.looks) {
      each(at, (cell) => {
        if (bold || italic || size) {
          cell.font = {
            name: 'Calibri',
            ...cell.font,
            ...(bold && {bold}),
            ...(italic && {italic}),
            ...(size && {size}),
          };
        }
        if (wrap || align || top) {
          cell.alignment = {
            ...cell.alignment,
            ...(wrap && {wrapText: true}),
            ...(align && {horizontal: align}),
            ...(top && {vertical: 'top'}),
          };
        }
        if (line) cell.border = {bottom: {style: 'thin', color: {argb: 'FF808080'}}};
      });
      if (merge) sheet.mergeCells(at.row + 1, at.column + 1, at.row + at.rows, at.column + at.columns);
    }
  }
  return asFile({book, arrays: [...ledger, ...arrays]});
}
