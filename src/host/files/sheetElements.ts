/** Elements of a sheet beside its cells: one is replaced, put where it belongs, or taken away. */
import {areaAddress, type Area} from '../book/addresses';
import {attribute, encodeXml, tags, withAttribute} from './xml';

/** In the order that the file format wants. */
const ORDER = (
  'sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection protectedRanges scenarios ' +
  'autoFilter sortState dataConsolidate customSheetViews mergeCells phoneticPr conditionalFormatting dataValidations ' +
  'hyperlinks printOptions pageMargins pageSetup headerFooter rowBreaks colBreaks customProperties cellWatches ' +
  'ignoredErrors smartTags drawing legacyDrawing legacyDrawingHF picture oleObjects controls webPublishItems tableParts extLst'
).split(' ');

/** An element as text; attributes that are undefined are left out. */
export function xmlText(
  name: string,
  attributes: Readonly<Record<string, string | number | boolean | undefined>> = {},
  inside = '',
): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${encodeXml(typeof value === 'boolean' ? (value ? '1' : '0') : String(value))}"`)
    .join('');
  return inside === '' ? `<${name}${written}/>` : `<${name}${written}>${inside}</${name}>`;
}

interface Found {
  readonly local: string;
  readonly start: number;
  readonly end: number;
  readonly attributes: string;
  /** Position behind its opening tag. */
  readonly inside: number;
}

/** The elements directly within the root, and where the root ends. */
function topLevel(xml: string): {found: Found[]; end: number; prefix: string} {
  const found: Found[] = [];
  let depth = 0;
  let opened: Omit<Found, 'end'> | undefined;
  let end = xml.length;
  let prefix = '';
  for (const {local, name, kind, start, end: behind, attributes} of tags(xml)) {
    if (kind === 'close') {
      depth--;
      if (depth === 0) end = start;
      if (depth === 1 && opened) found.push({...opened, end: behind});
      continue;
    }
    if (depth === 0) prefix = name.slice(0, name.length - local.length);
    if (depth === 1) {
      opened = {local, start, attributes, inside: behind};
      if (kind === 'empty') found.push({...opened, end: behind});
    }
    if (kind === 'open') depth++;
  }
  return {found, end, prefix};
}

/** The sheet with an element set, made by its prefix; undefined takes it away. */
export function withElement(
  xml: string,
  local: string,
  made: (prefix: string, before: {attributes: string; inside: string} | undefined) => string | undefined,
): string {
  const {found, end, prefix} = topLevel(xml);
  const there = found.find((one) => one.local === local);
  const before = there && {
    attributes: there.attributes,
    inside: xml.slice(there.inside, there.end).replace(/<\/[^>]*>$/, ''),
  };
  const text = made(prefix, before) ?? '';
  if (there) return xml.slice(0, there.start) + text + xml.slice(there.end);
  const place = ORDER.indexOf(local);
  const next = found.find((one) => ORDER.indexOf(one.local) > place)?.start ?? end;
  return xml.slice(0, next) + text + xml.slice(next);
}

export interface ColumnToSave {
  readonly from: number;
  readonly to: number;
  /** In pixels; 0 when hidden. */
  readonly size: number | undefined;
  readonly style: number | undefined;
}

/** Pixels of a digit in Excel's usual font, of which a width is a multiple. */
const DIGIT = 7;
const USUAL_COLUMN = 9.140625;

export const withColumns = (xml: string, columns: readonly ColumnToSave[]): string =>
  withElement(xml, 'cols', (prefix) => {
    if (columns.length === 0) return undefined;
    const each = columns.map(({from, to, size, style}) =>
      xmlText(`${prefix}col`, {
        min: from + 1,
        max: to + 1,
        width: size === undefined || size === 0 ? USUAL_COLUMN : size / DIGIT,
        style,
        hidden: size === 0 ? true : undefined,
        customWidth: size === undefined ? undefined : true,
      }),
    );
    return xmlText(`${prefix}cols`, {}, each.join(''));
  });

export const withMerges = (xml: string, merges: readonly Area[]): string =>
  withElement(xml, 'mergeCells', (prefix) => {
    if (merges.length === 0) return undefined;
    const each = merges.map((area) => xmlText(`${prefix}mergeCell`, {ref: areaAddress(area)}));
    return xmlText(`${prefix}mergeCells`, {count: merges.length}, each.join(''));
  });

export interface ViewToSave {
  readonly gridLines: boolean;
  readonly frozenRows: number;
  readonly frozenColumns: number;
}

export const withView = (xml: string, {gridLines, frozenRows, frozenColumns}: ViewToSave): string =>
  withElement(xml, 'sheetViews', (prefix, before) => {
    const [view] = before ? tags(before.inside) : [];
    const attributes = withAttribute(
      view?.attributes ?? ' workbookViewId="0"',
      'showGridLines',
      gridLines ? undefined : '0',
    );
    return xmlText(
      `${prefix}sheetViews`,
      {},
      `<${prefix}sheetView${attributes}>${pane(prefix, frozenRows, frozenColumns)}</${prefix}sheetView>`,
    );
  });

function pane(prefix: string, rows: number, columns: number): string {
  if (rows === 0 && columns === 0) return '';
  return xmlText(`${prefix}pane`, {
    xSplit: columns > 0 ? columns : undefined,
    ySplit: rows > 0 ? rows : undefined,
    topLeftCell: areaAddress({top: rows, left: columns, bottom: rows, right: columns}),
    activePane: rows > 0 && columns > 0 ? 'bottomRight' : rows > 0 ? 'bottomLeft' : 'topRight',
    state: 'frozen',
  });
}

export const withTabColor = (xml: string, color: string): string =>
  withElement(xml, 'sheetPr', (prefix, before) => {
    const rest = (before?.inside ?? '').replace(/<[^>]*\btabColor\b[^>]*>/, '');
    const tab = color === '' ? '' : xmlText(`${prefix}tabColor`, {rgb: `FF${color.slice(1).toUpperCase()}`});
    if (tab + rest === '' && !before?.attributes) return undefined;
    return `<${prefix}sheetPr${before?.attributes ?? ''}>${tab}${rest}</${prefix}sheetPr>`;
  });

/** The sheet refers to its tables by the ids of their relationships. */
export function withTableParts(xml: string, ids: readonly string[]): string {
  const relations = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  return withElement(xml, 'tableParts', (prefix) => {
    if (ids.length === 0) return undefined;
    const each = ids.map((id) => xmlText(`${prefix}tablePart`, {'xmlns:r': relations, 'r:id': id}));
    return xmlText(`${prefix}tableParts`, {count: ids.length}, each.join(''));
  });
}

/** The value of an attribute of an element of the sheet. */
export const elementAttribute = (xml: string, local: string, name: string): string | undefined => {
  const found = topLevel(xml).found.find((one) => one.local === local);
  return found && attribute(found.attributes, name);
};
