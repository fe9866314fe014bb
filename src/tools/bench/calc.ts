/** LibreOffice as a peer: how long it takes to recalculate native formulas, loading and saving apart. */
import {execFileSync, spawnSync} from 'node:child_process';
import {mkdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import ExcelJS from 'exceljs';
import {OUT} from './folders';

export const calcIsThere = (): boolean => spawnSync('soffice', ['--version']).status === 0;

const FOLDER = path.join(OUT, 'calc');
const BASIC = path.join(FOLDER, 'profile', 'user', 'basic', 'Standard');

/** Amount and angle of the first harmonic, from its cosine and sine sum; the angles stand in the first row. */
const formulas = (row: number): string[] => {
  const readings = `A${row}:P${row}`;
  return [
    `SUMPRODUCT(${readings}*COS(RADIANS($A$1:$P$1)))/8`,
    `SUMPRODUCT(${readings}*SIN(RADIANS($A$1:$P$1)))/8`,
    `2*SQRT(Q${row}^2+R${row}^2)`,
    `DEGREES(ATAN2(Q${row},R${row}))+IF(R${row}<0,360,0)`,
  ];
};
const AMOUNT = 18;

export interface Recalculated {
  /** Milliseconds of one recalculation of the whole workbook. */
  readonly time: number;
  /** Amount and angle of the last record. */
  readonly last: readonly [number, number];
}

/** Writes the readings with native formulas beside them, and gives what recalculates that workbook once. */
export async function calcPeer(cells: readonly number[][]): Promise<() => Recalculated> {
  rmSync(FOLDER, {recursive: true, force: true});
  mkdirSync(FOLDER, {recursive: true});
  const workbook = path.join(FOLDER, 'formulas.xlsx');
  await writeBook(workbook, cells);
  // A first start makes the profile, whose own macros would replace one that is there before.
  soffice('--terminate_after_init');
  writeFileSync(path.join(BASIC, 'script.xlb'), LIBRARY);
  writeFileSync(path.join(BASIC, 'Recalculation.xba'), MACRO);
  return () => recalculate(workbook, cells.length);
}

function recalculate(workbook: string, lastRow: number): Recalculated {
  const report = path.join(FOLDER, 'report.txt');
  rmSync(report, {force: true});
  const given = [pathToFileURL(workbook).href, report, String(lastRow)].map((text) => `"${text}"`);
  soffice('--norestore', `macro:///Standard.Recalculation.Measure(${given.join(',')})`);
  const [time, amount, angle] = readFileSync(report, 'utf8').trim().split('\n').map(Number);
  return {time, last: [amount, angle]};
}

async function writeBook(file: string, cells: readonly number[][]): Promise<void> {
  const book = new ExcelJS.Workbook();
  const sheet = book.addWorksheet('Readings');
  sheet.addRow(cells[0].map((_, i) => (360 * i) / cells[0].length));
  cells.forEach((row, r) => sheet.addRow([...row, ...formulas(r + 2).map((formula) => ({formula}))]));
  await book.xlsx.writeFile(file);
}

function soffice(...args: string[]): void {
  const profile = `-env:UserInstallation=${pathToFileURL(path.join(FOLDER, 'profile')).href}`;
  execFileSync('soffice', [profile, '--headless', ...args], {stdio: 'ignore'});
}

const HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE';

const LIBRARY = `${HEAD} library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard" library:readonly="false" library:passwordprotected="false">
 <library:element library:name="Recalculation"/>
</library:library>`;

/** The second recalculation counts: the first one compiles. */
const MACRO = `${HEAD} script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Recalculation" script:language="StarBasic">
Sub Measure(workbook, report, lastRow)
  Dim settings(0) As New com.sun.star.beans.PropertyValue
  settings(0).Name = "Hidden"
  settings(0).Value = True
  book = StarDesktop.loadComponentFromURL(workbook, "_blank", 0, settings())
  book.calculateAll()
  began = GetSystemTicks()
  book.calculateAll()
  took = GetSystemTicks() - began
  cells = book.Sheets.getByIndex(0)
  Open report For Output As #1
  Print #1, took
  Print #1, cells.getCellByPosition(${AMOUNT}, CLng(lastRow)).Value
  Print #1, cells.getCellByPosition(${AMOUNT + 1}, CLng(lastRow)).Value
  Close #1
  book.close(True)
End Sub
</script:module>`;
