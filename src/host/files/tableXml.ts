/** The part of a table. */
import {areaAddress, type Area} from '../book/addresses';
import {xmlText} from './sheetElements';
import {attribute, tags, withAttribute} from './xml';

export interface TableToSave {
  readonly name: string;
  /** Its name in the file; undefined for a new one. */
  readonly origin: string | undefined;
  readonly area: Area;
  readonly header: boolean;
  readonly totals: boolean;
  readonly columns: readonly string[];
  readonly style: string;
  readonly bandedRows: boolean;
  readonly filterButton: boolean;
}

const NAMESPACE = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
export const DECLARATION = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';

/** The cells that a filter covers: the total is not filtered. */
const filtered = ({area, totals}: TableToSave): string =>
  areaAddress(totals ? {...area, bottom: area.bottom - 1} : area);

/** In the attribute, line breaks within a heading are written so. */
const columnName = (name: string): string => name.replace(/\r?\n/g, '_x000a_');

export function newTable(table: TableToSave, id: number): string {
  const {name, area, header, totals, columns, style, bandedRows, filterButton} = table;
  const each = columns.map((column, i) => xmlText('tableColumn', {id: i + 1, name: columnName(column)}));
  return (
    DECLARATION +
    xmlText(
      'table',
      {
        xmlns: NAMESPACE,
        id,
        name,
        displayName: name,
        ref: areaAddress(area),
        headerRowCount: header ? undefined : 0,
        totalsRowCount: totals ? 1 : undefined,
        totalsRowShown: totals ? undefined : 0,
      },
      (header && filterButton ? xmlText('autoFilter', {ref: filtered(table)}) : '') +
        xmlText('tableColumns', {count: columns.length}, each.join('')) +
        xmlText('tableStyleInfo', {
          name: style === '' ? undefined : style,
          showFirstColumn: false,
          showLastColumn: false,
          showRowStripes: bandedRows,
          showColumnStripes: false,
        }),
    )
  );
}

/** The part with other cells, name or columns; everything else of it stays. */
export function changedTable(xml: string, table: TableToSave): string {
  const pieces: string[] = [];
  let copied = 0;
  const replace = (start: number, end: number, text: string): void => {
    pieces.push(xml.slice(copied, start), text);
    copied = end;
  };
  let columnsFrom: number | undefined;
  let prefix = '';
  for (const tag of tags(xml)) {
    const {local, name, kind, start, end, attributes} = tag;
    if (local === 'table' && kind !== 'close') {
      prefix = name.slice(0, name.length - local.length);
      let changed = withAttribute(attributes, 'ref', areaAddress(table.area));
      changed = withAttribute(withAttribute(changed, 'name', table.name), 'displayName', table.name);
      replace(start, end, `<${name}${changed}>`);
    }
    if (local === 'autoFilter' && kind !== 'close') {
      const changed = withAttribute(attributes, 'ref', filtered(table));
      replace(start, end, `<${name}${changed}${kind === 'empty' ? '/' : ''}>`);
    }
    if (local === 'tableColumns' && kind === 'open') {
      replace(start, end, `<${name}${withAttribute(attributes, 'count', String(table.columns.length))}>`);
      columnsFrom = end;
    }
    if (local === 'tableColumns' && kind === 'close' && columnsFrom !== undefined) {
      replace(columnsFrom, start, columnsText(xml.slice(columnsFrom, start), table.columns, prefix));
    }
  }
  pieces.push(xml.slice(copied));
  return pieces.join('');
}

/** Columns that were there keep what they have, found by their names or else by their place. */
function columnsText(xml: string, columns: readonly string[], prefix: string): string {
  const there: {name: string; id: number; text: string}[] = [];
  let opened = 0;
  for (const {local, kind, start, end, attributes} of tags(xml)) {
    if (local !== 'tableColumn') continue;
    if (kind !== 'close') {
      opened = start;
      there.push({name: attribute(attributes, 'name') ?? '', id: Number(attribute(attributes, 'id')), text: ''});
    }
    if (kind !== 'open') there.at(-1)!.text = xml.slice(opened, end);
  }
  let next = Math.max(0, ...there.map(({id}) => id)) + 1;
  const same = there.length === columns.length;
  return columns
    .map((column, i) => {
      const name = columnName(column);
      const found = there.find((one) => one.name === name) ?? (same ? there[i] : undefined);
      if (!found) return xmlText(`${prefix}tableColumn`, {id: next++, name});
      const [tag] = tags(found.text);
      return `<${tag.name}${withAttribute(tag.attributes, 'name', name)}${found.text.slice(tag.end - (tag.kind === 'empty' ? 2 : 1))}`;
    })
    .join('');
}
