/** LibreOffice as a peer: how long it takes to recalculate native formulas. */
import {execFileSync, spawnSync} from 'node:child_process';
import {mkdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import ExcelJS from 'exceljs';
import {readWorkbook} from '../../host/files/read';
import {OUT} from './folders';

export const calcIsThere = (): boolean => spawnSync('soffice', ['--version']).status === 0;

/** How many columns of each record are native formulas: cosine and sine sums, amount, angle. */
const FORMULAS = 4;

/**
 * Writes the readings with native formulas for the first harmonic beside them, and has LibreOffice recalculate and save
 * the workbook, and another one that holds the readings alone. The difference is the recalculation.
 */
export async function recalculationInCalc(cells: readonly number[][]): Promise<{time: number; first: number[][]}> {
  mkdirSync(OUT, {recursive: true});
  const folder = path.join(OUT, 'calc');
  rmSync(folder, {recursive: true, force: true});
  mkdirSync(path.join(folder, 'computed'), {recursive: true});
  const withFormulas = path.join(folder, 'formulas.xlsx');
  const alone = path.join(folder, 'alone.xlsx');
  await writeBook(withFormulas, cells, true);
  await writeBook(alone, cells, false);
  const profile = path.join(folder, 'profile');
  writeProfile(profile);
  convert(alone, folder, profile);
  const plain = timed(() => convert(alone, folder, profile));
  const full = timed(() => convert(withFormulas, folder, profile));
  const book = await readWorkbook(new Uint8Array(readFileSync(path.join(folder, 'computed', 'formulas.xlsx'))));
  const first = Array.from({length: 20}, (_, r) => {
    const found = book.sheets[0].cells.find(({row, column}) => row === r + 1 && column === 18);
    return [found?.value as number];
  });
  return {time: full - plain, first};
}

async function writeBook(file: string, cells: readonly number[][], formulas: boolean): Promise<void> {
  const book = new ExcelJS.Workbook();
  const sheet = book.addWorksheet('Readings');
  sheet.addRow(cells[0].map((_, i) => (360 * i) / cells[0].length));
  cells.forEach((row, r) => {
    const at = r + 2;
    const range = `A${at}:P${at}`;
    sheet.addRow([
      ...row,
      ...(formulas
        ? [
            {formula: `SUMPRODUCT(${range}*COS(RADIANS($A$1:$P$1)))/8`, result: 999},
            {formula: `SUMPRODUCT(${range}*SIN(RADIANS($A$1:$P$1)))/8`, result: 999},
            {formula: `2*SQRT(Q${at}^2+R${at}^2)`, result: 999},
            {formula: `DEGREES(ATAN2(Q${at},R${at}))+IF(R${at}<0,360,0)`, result: 999},
          ]
        : new Array<number>(FORMULAS).fill(999)),
    ]);
  });
  await book.xlsx.writeFile(file);
}

/** Recalculates on load whatever is cached. */
function writeProfile(folder: string): void {
  mkdirSync(path.join(folder, 'user'), {recursive: true});
  writeFileSync(
    path.join(folder, 'user', 'registrymodifications.xcu'),
    `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`,
  );
}

function convert(file: string, folder: string, profile: string): void {
  const installation = `-env:UserInstallation=${pathToFileURL(profile).href}`;
  const out = path.join(folder, 'computed');
  execFileSync('soffice', [installation, '--headless', '--convert-to', 'xlsx', '--outdir', out, file], {
    stdio: 'ignore',
  });
}

function timed(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}
