/** LibreOffice as a judge: it calculates every formula of a workbook anew, whatever results the file has. */
import {execFileSync} from 'node:child_process';
import {mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import {convertBinary} from '@borgar/xlsx-convert';
import {letters} from '../../working/addresses';

/** It trusts the results in a file unless its settings say otherwise. */
const SETTINGS = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`;

/** A cell as calculated; NaN for #N/A, the code of any other error as a text. */
export type Calculated = (sheet: string, row: number, column: number) => number | string | undefined;

export const spreadsheetThere = (): boolean => {
  try {
    execFileSync('soffice', ['--version'], {stdio: 'ignore'});
    return true;
  } catch {
    return false;
  }
};

/** A folder for the duration of an act. */
export async function inFolder<T>(act: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(path.join(tmpdir(), 'agreement-'));
  try {
    return await act(folder);
  } finally {
    rmSync(folder, {recursive: true, force: true});
  }
}

/** Recalculates workbooks, all in one run of a profile of its own. */
export async function recalculated(files: readonly string[], folder: string): Promise<Calculated[]> {
  const profile = path.join(folder, 'profile');
  mkdirSync(path.join(profile, 'user'), {recursive: true});
  writeFileSync(path.join(profile, 'user', 'registrymodifications.xcu'), SETTINGS);
  const out = path.join(folder, 'calculated');
  execFileSync(
    'soffice',
    [
      `-env:UserInstallation=${pathToFileURL(profile)}`,
      '--headless',
      '--convert-to',
      'xlsx',
      '--outdir',
      out,
      ...files,
    ],
    {stdio: 'pipe', timeout: 300000},
  );
  return Promise.all(files.map((file) => readCells(path.join(out, path.basename(file)))));
}

interface ReadSheet {
  readonly name: string;
  readonly cells: Readonly<Record<string, {readonly v?: number | string | boolean | null; readonly t?: string}>>;
}

async function readCells(file: string): Promise<Calculated> {
  const bytes = readFileSync(file);
  const book = await convertBinary(bytes, path.basename(file));
  const sheets = new Map((book.sheets as unknown as ReadSheet[]).map(({name, cells}) => [name, cells]));
  return (sheet, row, column) => {
    const cell = sheets.get(sheet)![`${letters(column)}${row + 1}`];
    const value = cell?.v;
    if (value === null || value === undefined) return undefined;
    if (cell.t === 'e') return value === '#N/A' ? NaN : String(value);
    return typeof value === 'boolean' ? Number(value) : value;
  };
}
