/** A copy of a workbook file with everything that was changed since it was opened; all other parts stay, byte for byte. */
import type {Area} from '../book/addresses';
import type {CellLook} from './looks';
import {withCharts, type PlacedChart} from './drawingXml';
import {withPage, type PageToSave} from './pageSetup';
import {
  addPart,
  addRelatedPart,
  freePath,
  relationships,
  removeRelatedPart,
  setTextPart,
  textPart,
  workbookParts,
} from './parts';
import {patchParts, sheetPath, type CellEdit} from './patch';
import {withColumns, withMerges, withTableParts, withTabColor, withView, type ViewToSave} from './sheetElements';
import {changedSheet, type RowChange} from './sheetXml';
import {StyleSheet} from './styleSheet';
import {changedTable, DECLARATION, newTable, type TableToSave} from './tableXml';
import {WorkbookXml, type NameToSave} from './workbookXml';
import {attribute, tags} from './xml';
import {packZip, unpackZip, type Parts} from './zip';

export type {NameToSave, TableToSave};

/** A look that a cell, row or column got, and what it had in the file. */
export interface LookToSave {
  readonly look: CellLook;
  /** The number of its style in the file. */
  readonly base: number;
  readonly baseLook: CellLook;
}

export interface SheetToSave {
  readonly name: string;
  /** Its name in the file; undefined for a new one. */
  readonly origin: string | undefined;
  readonly visibility: string;
  /** Cells that differ from the file. */
  readonly cells: readonly (Omit<CellEdit, 'sheet' | 'style'> & {readonly look?: LookToSave | undefined})[];
  /** Only what differs from the file. */
  readonly columns?: readonly (Band & {readonly look?: LookToSave | undefined})[] | undefined;
  readonly rows?: readonly (Band & {readonly look?: LookToSave | undefined})[] | undefined;
  /** Charts made since the file was opened; those of the file stay. */
  readonly charts?: readonly PlacedChart[] | undefined;
  readonly view?: ViewToSave | undefined;
  readonly merges?: readonly Area[] | undefined;
  readonly tabColor?: string | undefined;
  readonly page?: PageToSave | undefined;
  /** The tables of the sheet. */
  readonly tables: readonly TableToSave[];
}

interface Band {
  readonly from: number;
  readonly to: number;
  /** In pixels; 0 when hidden, undefined for the usual one. */
  readonly size: number | undefined;
}

const POINTS_OF_PIXEL = 0.75;

export interface BookToSave {
  /** In their order. */
  readonly sheets: readonly SheetToSave[];
  /** The names of the sheets of the file. */
  readonly before: readonly string[];
  /** All of them; undefined when none is new, changed or gone. */
  readonly names: readonly NameToSave[] | undefined;
  /** Names of the tables of the file that differ or are gone. */
  readonly changedTables: ReadonlySet<string>;
}

const SPREADSHEET = 'application/vnd.openxmlformats-officedocument.spreadsheetml';
const RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const NEW_SHEET =
  `${DECLARATION}<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` +
  '<sheetFormatPr defaultRowHeight="15"/><sheetData/></worksheet>';

/**
 * The file with the changes.
 * @throws FileProblem when something of the file does not allow them, in words that go on behind the file's name
 */
export function saveBook(bytes: Uint8Array, book: BookToSave): Uint8Array {
  const parts = unpackZip(bytes);
  arrangeSheets(parts, book);
  const styles = openStyles(parts);
  const edits = book.sheets.flatMap(({name: sheet, cells}) =>
    cells.map(({look, ...cell}): CellEdit => ({
      ...cell,
      sheet,
      ...(look ? {style: styles.sheet.styleFor(look.look, look.base, look.baseLook)} : {}),
    })),
  );
  if (edits.length > 0) patchParts(parts, edits);
  for (const sheet of book.sheets) saveSheet(parts, sheet, styles.sheet, book.changedTables);
  if (styles.sheet.isChanged) setTextPart(parts, styles.path, styles.sheet.text());
  return packZip(parts);
}

function openStyles(parts: Parts): {path: string; sheet: StyleSheet} {
  const {path} = workbookParts(parts);
  const found = relationships(parts, path).find(({type, target}) => type === 'styles' && parts.has(target));
  if (found) return {path: found.target, sheet: new StyleSheet(textPart(parts, found.target))};
  const made = 'xl/styles.xml';
  const sheet = new StyleSheet(
    `${DECLARATION}<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` +
      '<fonts count="1"><font><sz val="11"/><name val="Calibri"/></font></fonts>' +
      '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>' +
      '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>' +
      '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>' +
      '<cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs></styleSheet>',
  );
  const part = {path: made, text: sheet.text(), contentType: `${SPREADSHEET}.styles+xml`};
  addRelatedPart(parts, path, {...part, relationshipType: `${RELATIONS}/styles`});
  return {path: made, sheet};
}

/** Sheets that are new, renamed, hidden, moved or gone, and names. */
function arrangeSheets(parts: Parts, {sheets, before, names}: BookToSave): void {
  const kept = new Set(sheets.flatMap(({origin}) => origin ?? []));
  const removed = before.filter((name) => !kept.has(name));
  const isSame =
    sheets.length === before.length &&
    sheets.every(({origin, name, visibility}, i) => origin === before[i] && name === origin && visibility === '');
  if (isSame && names === undefined) return;
  const book = workbookParts(parts);
  const xml = new WorkbookXml(textPart(parts, book.path));
  for (const name of removed) removeRelatedPart(parts, book.path, sheetPath(book, name));
  // By way of names that no sheet has, so that two sheets can exchange theirs.
  sheets.forEach(({origin}, i) => origin !== undefined && xml.renameSheet(origin, `\u0000${i}`));
  sheets.forEach(({origin, name}, i) => {
    if (origin !== undefined) return xml.renameSheet(`\u0000${i}`, name);
    const path = freePath(parts, 'xl/worksheets/sheet', '.xml');
    const part = {path, text: NEW_SHEET, contentType: `${SPREADSHEET}.worksheet+xml`};
    return xml.addSheet(name, addPart(parts, book, {...part, relationshipType: `${RELATIONS}/worksheet`}));
  });
  xml.arrange(
    new Set(removed),
    sheets.map(({name}) => name),
  );
  for (const {name, visibility} of sheets) if (visibility !== '') xml.setState(name, visibility);
  if (names !== undefined) xml.setNames(names);
  setTextPart(parts, book.path, xml.text());
}

function saveSheet(parts: Parts, sheet: SheetToSave, styles: StyleSheet, changedTables: ReadonlySet<string>): void {
  const {columns, rows = [], charts = [], view, merges, tabColor, page, name} = sheet;
  const path = sheetPath(workbookParts(parts), name);
  let xml = textPart(parts, path);
  const before = xml;
  if (columns !== undefined) {
    xml = withColumns(
      xml,
      columns.map(({look, ...band}) => ({
        ...band,
        style: look && styles.styleFor(look.look, look.base, look.baseLook),
      })),
    );
  }
  if (rows.length > 0) xml = changedSheet(xml, new Map(), rowChanges(rows, styles));
  if (view !== undefined) xml = withView(xml, view);
  if (merges !== undefined) xml = withMerges(xml, merges);
  if (tabColor !== undefined) xml = withTabColor(xml, tabColor);
  if (page !== undefined) xml = withPage(xml, page);
  xml = withCharts(parts, path, xml, charts);
  xml = saveTables(parts, path, xml, sheet, changedTables);
  if (xml !== before) setTextPart(parts, path, xml);
}

function rowChanges(rows: NonNullable<SheetToSave['rows']>, styles: StyleSheet): Map<number, RowChange> {
  const changes = new Map<number, RowChange>();
  for (const {from, to, size, look} of rows) {
    const change = {
      height: size === undefined ? undefined : size * POINTS_OF_PIXEL,
      style: look && styles.styleFor(look.look, look.base, look.baseLook),
    };
    for (let row = from; row <= to; row++) changes.set(row, change);
  }
  return changes;
}

/** The tables of a sheet: their parts, and what the sheet says of them. */
function saveTables(
  parts: Parts,
  path: string,
  xml: string,
  {tables}: SheetToSave,
  changedTables: ReadonlySet<string>,
): string {
  const there = relationships(parts, path)
    .filter(({type, target}) => type === 'table' && parts.has(target))
    .map(({id, target}) => ({id, target, name: tableAttribute(textPart(parts, target), 'displayName')}));
  const ids: string[] = [];
  let isChanged = false;
  for (const table of tables) {
    const part = table.origin === undefined ? undefined : there.find(({name}) => name === table.origin);
    if (part) {
      ids.push(part.id);
      if (changedTables.has(table.origin!))
        setTextPart(parts, part.target, changedTable(textPart(parts, part.target), table));
      continue;
    }
    isChanged = true;
    const file = freePath(parts, 'xl/tables/table', '.xml');
    const made = {path: file, text: newTable(table, freeTableId(parts)), contentType: `${SPREADSHEET}.table+xml`};
    ids.push(addRelatedPart(parts, path, {...made, relationshipType: `${RELATIONS}/table`}));
  }
  for (const {target, name} of there) {
    if (tables.some(({origin}) => origin === name)) continue;
    removeRelatedPart(parts, path, target);
    isChanged = true;
  }
  return isChanged ? withTableParts(xml, ids) : xml;
}

function tableAttribute(xml: string, name: string): string | undefined {
  for (const {local, attributes} of tags(xml)) if (local === 'table') return attribute(attributes, name);
  return undefined;
}

/** Numbers of tables are unique in a workbook. */
function freeTableId(parts: Parts): number {
  const ids = [...parts.keys()]
    .filter((name) => /^xl\/tables\/[^/]+\.xml$/i.test(name))
    .map((name) => Number(tableAttribute(textPart(parts, name), 'id')));
  return Math.max(0, ...ids) + 1;
}
