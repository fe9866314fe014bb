/** A sheet of a workbook as LibreOffice prints it. LibreOffice has no add-in: cells stand with the values in the file. */
import {execFileSync} from 'node:child_process';
import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {setTextPart, textPart, workbookParts} from '../../src/host/files/parts';
import {WorkbookXml} from '../../src/host/files/workbookXml';
import {packZip, unpackZip} from '../../src/host/files/zip';

export interface Printed {
  /** The text of each page, with the spaces that place it. */
  readonly pages: readonly string[];
  /** Colors and lines of the drawing, as the file has them. */
  readonly pdf: Uint8Array;
}

/** One sheet alone, its formulas replaced by what they gave. */
export const printedAlone = (bytes: Uint8Array, sheet: string): Printed => printed(valuesOf(bytes, sheet));

/** All that the workbook prints. */
export function printed(bytes: Uint8Array): Printed {
  const folder = mkdtempSync(path.join(tmpdir(), 'printed-'));
  try {
    writeFileSync(path.join(folder, 'book.xlsx'), bytes);
    execFileSync(
      process.env.SOFFICE ?? 'soffice',
      [
        `-env:UserInstallation=file://${folder}/profile`,
        '--headless',
        '--convert-to',
        'pdf',
        '--outdir',
        folder,
        path.join(folder, 'book.xlsx'),
      ],
      {timeout: 110_000, stdio: 'ignore'},
    );
    const pdf = path.join(folder, 'book.pdf');
    const text = execFileSync(process.env.PDFTOTEXT ?? 'pdftotext', ['-layout', pdf, '-'], {encoding: 'utf8'});
    return {pages: text.split('\f').slice(0, -1), pdf: readFileSync(pdf)};
  } finally {
    rmSync(folder, {recursive: true, force: true});
  }
}

function valuesOf(bytes: Uint8Array, sheet: string): Uint8Array {
  const parts = unpackZip(bytes);
  const book = workbookParts(parts);
  const xml = new WorkbookXml(textPart(parts, book.path));
  for (const {name, path: part} of book.sheets) {
    if (name !== sheet) xml.setState(name, 'Hidden');
    const values = textPart(parts, part).replace(/<f\b[^>]*(?:\/>|>[^<]*<\/f>)/g, '');
    setTextPart(parts, part, values.replace(/\stabSelected="1"/, ''));
  }
  // The sheet that is shown first is printed even when it is hidden.
  const at = book.sheets.findIndex(({name}) => name === sheet);
  const text = xml
    .text()
    .replace(/<bookViews\b[^]*?<\/bookViews>/, '')
    // So is one that has an area of its own to be printed.
    .replace(/<definedName\b[^>]*"_xlnm\.Print_Area"[^]*?<\/definedName>/g, (name) =>
      name.includes(`localSheetId="${at}"`) ? name : '',
    );
  const view = `<bookViews><workbookView activeTab="${at}"/></bookViews>`;
  setTextPart(parts, book.path, text.replace(/<sheets\b/, `${view}$&`));
  return packZip(parts);
}
