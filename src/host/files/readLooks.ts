/** Reading how the cells of a workbook look. */
import {cellKey, parseArea, parseCell} from '../book/addresses';
import {conditionalFormats} from './conditionalFormats';
import type {Band, Border, CellLook, LineStyle, Looks, SheetLook, Side, TableLook} from './looks';
import {relationships, textPart, type WorkbookParts} from './parts';
import {attribute, tags} from './xml';
import type {Parts} from './zip';

/** What the library makes of a workbook, as far as its looks go. */
export interface ConvertedLooks {
  readonly sheets: readonly ConvertedSheetLook[];
  readonly styles?: readonly Readonly<Record<string, unknown>>[];
  readonly theme?: {
    readonly colorScheme?: Readonly<Record<string, {readonly value?: string} | string>>;
    readonly fontScheme?: {readonly minor?: Latin; readonly major?: Latin};
  };
}

interface Latin {
  readonly latin?: {readonly typeface?: string};
}

interface ConvertedBand {
  readonly start: number;
  readonly end: number;
  readonly size?: number;
  readonly s?: number;
}

interface ConvertedSheetLook {
  readonly name: string;
  readonly cells: Readonly<Record<string, {readonly s?: number}>>;
  readonly columns?: readonly ConvertedBand[];
  readonly rows?: readonly ConvertedBand[];
  readonly merges?: readonly string[];
  readonly hidden?: number;
}

/** The library takes 6 pixels for the width of a digit, Excel's usual font has 7. */
const COLUMN_SCALE = 7 / 6;
/** Points to pixels. */
const ROW_SCALE = 4 / 3;
const MAX_COLUMN = 16384;
const MAX_ROW = 1048576;

export function looksOf(converted: ConvertedLooks, parts: Parts, book: WorkbookParts): Looks {
  const styles = stylesXml(parts, book);
  const colors = new Colors(converted);
  return {
    looks: (converted.styles ?? []).map((style) => cellLook(style, colors, fontsOf(converted))),
    sheets: book.sheets.flatMap(({name, path}) => {
      const sheet = converted.sheets.find((one) => one.name === name);
      return sheet ? [sheetLook(sheet, textPart(parts, path), styles)] : [];
    }),
    tables: tableLooks(parts, book),
  };
}

/** Pixels of a digit in Excel's usual font, of the room beside it, and what a column that nobody sized is a multiple of. */
const [DIGIT, BESIDE, MULTIPLE] = [7, 5, 8];

/** Columns and rows that nobody sized, in pixels. */
function usualSizes(xml: string): Pick<SheetLook, 'columnWidth' | 'rowHeight'> {
  let format = '';
  for (const {local, attributes} of tags(xml)) {
    if (local === 'sheetFormatPr') format = attributes;
    if (local === 'sheetFormatPr' || local === 'sheetData') break;
  }
  const number = (name: string): number | undefined => {
    const found = Number(attribute(format, name) ?? NaN);
    return found > 0 ? found : undefined;
  };
  const [width, base] = [number('defaultColWidth'), number('baseColWidth') ?? 8];
  return {
    columnWidth:
      width === undefined
        ? Math.ceil((base * DIGIT + BESIDE) / MULTIPLE) * MULTIPLE
        : Math.floor(((256 * width + Math.floor(128 / DIGIT)) / 256) * DIGIT),
    rowHeight: Math.round((number('defaultRowHeight') ?? 15) * ROW_SCALE),
  };
}

function stylesXml(parts: Parts, book: WorkbookParts): string {
  const found = relationships(parts, book.path).find(({type, target}) => type === 'styles' && parts.has(target));
  return found ? textPart(parts, found.target) : '<styleSheet/>';
}

function sheetLook(sheet: ConvertedSheetLook, xml: string, styles: string): SheetLook {
  const cells = new Map<number, number>();
  for (const [address, {s}] of Object.entries(sheet.cells)) {
    const at = parseCell(address);
    if (at && s !== undefined) cells.set(cellKey(at.row, at.column), s);
  }
  return {
    name: sheet.name,
    hidden: (sheet.hidden ?? 0) !== 0,
    ...viewOf(xml),
    columns: (sheet.columns ?? []).map((band) => bandOf(band, COLUMN_SCALE, MAX_COLUMN)),
    rows: (sheet.rows ?? []).map((band) => bandOf(band, ROW_SCALE, MAX_ROW)),
    ...usualSizes(xml),
    merges: (sheet.merges ?? []).flatMap((merge) => parseArea(merge) ?? []),
    conditional: conditionalFormats(xml, styles),
    cells,
  };
}

const bandOf = ({start, end, size, s}: ConvertedBand, scale: number, most: number): Band => ({
  from: start - 1,
  to: Math.min(end, most) - 1,
  size: size === undefined ? undefined : Math.round(size * scale),
  look: s,
});

function viewOf(xml: string): Pick<SheetLook, 'gridLines' | 'frozenRows' | 'frozenColumns'> {
  let gridLines = true;
  let [frozenRows, frozenColumns] = [0, 0];
  for (const {local, kind, attributes} of tags(xml)) {
    if (local === 'sheetData') break;
    if (kind === 'close') continue;
    if (local === 'sheetView') gridLines = attribute(attributes, 'showGridLines') !== '0';
    if (local === 'pane' && attribute(attributes, 'state')?.startsWith('frozen')) {
      frozenRows = Number(attribute(attributes, 'ySplit') ?? 0);
      frozenColumns = Number(attribute(attributes, 'xSplit') ?? 0);
    }
  }
  return {gridLines, frozenRows, frozenColumns};
}

/** Colors as the library names them, in the workbook's theme. */
class Colors {
  readonly #theme: Readonly<Record<string, {readonly value?: string} | string>>;

  constructor({theme}: ConvertedLooks) {
    this.#theme = theme?.colorScheme ?? {};
  }

  read(color: unknown): string | undefined {
    const {type, value} = (color ?? {}) as {type?: string; value?: string};
    if (value === undefined || type === 'auto') return undefined;
    const themed = type === 'theme' ? this.#theme[value] : undefined;
    const rgb = themed === undefined ? value : typeof themed === 'string' ? themed : (themed.value ?? '');
    if (/^[0-9a-f]{6}$/i.test(rgb)) return `#${rgb}`;
    return rgb === 'window' ? '#FFFFFF' : rgb === 'windowText' ? '#000000' : undefined;
  }
}

interface Fonts {
  readonly minor: string | undefined;
  readonly major: string | undefined;
}

const fontsOf = ({theme}: ConvertedLooks): Fonts => ({
  minor: theme?.fontScheme?.minor?.latin?.typeface,
  major: theme?.fontScheme?.major?.latin?.typeface,
});

const SIDES: readonly Side[] = ['top', 'right', 'bottom', 'left'];

function cellLook(style: Readonly<Record<string, unknown>>, colors: Colors, fonts: Fonts): CellLook {
  const text = (key: string): string | undefined =>
    typeof style[key] === 'string' ? (style[key] as string) : undefined;
  const is = (key: string): boolean => style[key] !== undefined && style[key] !== false && style[key] !== 'none';
  const numberFormat = text('numberFormat');
  const font =
    text('fontFamily') ??
    (style.fontScheme === 'minor' ? fonts.minor : style.fontScheme === 'major' ? fonts.major : undefined);
  const size = typeof style.fontSize === 'number' && style.fontSize > 0 ? style.fontSize : undefined;
  const color = colors.read(style.color);
  const fill = colors.read(style.fillColor);
  const horizontal = (['left', 'center', 'right', 'justify'] as const).find((one) => one === style.horizontalAlignment);
  const vertical = (['top', 'center', 'bottom'] as const).find((one) => one === style.verticalAlignment);
  const borders: Partial<Record<Side, Border>> = {};
  for (const side of SIDES) {
    const key = `border${side[0].toUpperCase()}${side.slice(1)}`;
    if (!is(`${key}Style`)) continue;
    borders[side] = {style: style[`${key}Style`] as LineStyle, color: colors.read(style[`${key}Color`]) ?? '#000000'};
  }
  return {
    ...(numberFormat !== undefined && numberFormat !== 'General' ? {numberFormat} : {}),
    ...(font === undefined ? {} : {font}),
    ...(size === undefined ? {} : {size}),
    ...(is('bold') ? {bold: true} : {}),
    ...(is('italic') ? {italic: true} : {}),
    ...(is('underline') ? {underline: true} : {}),
    ...(is('strikethrough') ? {strikethrough: true} : {}),
    ...(color === undefined ? {} : {color}),
    ...(fill === undefined ? {} : {fill}),
    ...(horizontal === undefined ? {} : {horizontal}),
    ...(vertical === undefined ? {} : {vertical}),
    ...(is('wrapText') ? {wrap: true} : {}),
    ...(Object.keys(borders).length === 0 ? {} : {borders}),
  };
}

function tableLooks(parts: Parts, book: WorkbookParts): Map<string, TableLook> {
  const found = new Map<string, TableLook>();
  for (const {path} of book.sheets) {
    for (const {type, target} of relationships(parts, path)) {
      if (type !== 'table' || !parts.has(target)) continue;
      let name: string | undefined;
      for (const {local, kind, attributes} of tags(textPart(parts, target))) {
        if (kind === 'close') continue;
        if (local === 'table') {
          name = attribute(attributes, 'displayName') ?? attribute(attributes, 'name');
          if (name !== undefined) found.set(name, {style: undefined, bandedRows: false});
        }
        if (local === 'tableStyleInfo' && name !== undefined) {
          found.set(name, {
            style: attribute(attributes, 'name'),
            bandedRows: attribute(attributes, 'showRowStripes') === '1',
          });
        }
      }
    }
  }
  return found;
}
