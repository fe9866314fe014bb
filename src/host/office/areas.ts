/** Blocks of cells and their addresses. */
import {addA1RangeBounds, parseA1Ref, toCol} from '@borgar/fx';
import {areaAddress, COLUMNS, oneCell, ROWS, sheetPrefix, type Area} from '../book/addresses';

export const WHOLE_SHEET: Area = {top: 0, left: 0, bottom: ROWS - 1, right: COLUMNS - 1};

export const rowCount = ({top, bottom}: Area): number => bottom - top + 1;
export const columnCount = ({left, right}: Area): number => right - left + 1;
export const isWholeRows = ({left, right}: Area): boolean => left === 0 && right === COLUMNS - 1;
export const isWholeColumns = ({top, bottom}: Area): boolean => top === 0 && bottom === ROWS - 1;

export const isOnSheet = ({top, left, bottom, right}: Area): boolean =>
  top >= 0 && left >= 0 && top <= bottom && left <= right && bottom < ROWS && right < COLUMNS;

export const contains = (outer: Area, inner: Area): boolean =>
  inner.top >= outer.top && inner.left >= outer.left && inner.bottom <= outer.bottom && inner.right <= outer.right;

export const sameArea = (a: Area, b: Area): boolean => contains(a, b) && contains(b, a);

/** The cells that both have. */
export function common(a: Area, b: Area): Area | undefined {
  const area = {
    top: Math.max(a.top, b.top),
    left: Math.max(a.left, b.left),
    bottom: Math.min(a.bottom, b.bottom),
    right: Math.min(a.right, b.right),
  };
  return area.top <= area.bottom && area.left <= area.right ? area : undefined;
}

/** The smallest area around both. */
export const around = (a: Area, b: Area): Area => ({
  top: Math.min(a.top, b.top),
  left: Math.min(a.left, b.left),
  bottom: Math.max(a.bottom, b.bottom),
  right: Math.max(a.right, b.right),
});

export const moved = ({top, left, bottom, right}: Area, rows: number, columns: number): Area => ({
  top: top + rows,
  left: left + columns,
  bottom: bottom + rows,
  right: right + columns,
});

/** "A1:B2", "A:B" or "1:2". */
export function shortAddress(area: Area): string {
  if (isWholeRows(area)) return `${area.top + 1}:${area.bottom + 1}`;
  if (isWholeColumns(area)) return `${toCol(area.left)}:${toCol(area.right)}`;
  return areaAddress(area);
}

export const fullAddress = (sheet: string, area: Area): string => `${sheetPrefix(sheet)}${shortAddress(area)}`;

/** "B3:D5", "B:C" or "2:4", with or without the name of a sheet; undefined for anything else. */
export function parseAddress(address: string): {readonly sheet: string | undefined; readonly area: Area} | undefined {
  const parsed = parseA1Ref(address.trim());
  if (!parsed || !('range' in parsed)) return undefined;
  const {context = [], range} = parsed;
  if (context.length > 1 || range.trim) return undefined;
  const {top = 0, left = 0, bottom = top, right = left} = addA1RangeBounds({...range});
  const area = {
    top: Math.min(top ?? 0, bottom ?? 0),
    left: Math.min(left ?? 0, right ?? 0),
    bottom: Math.max(top ?? 0, bottom ?? 0),
    right: Math.max(left ?? 0, right ?? 0),
  };
  return isOnSheet(area) ? {sheet: context[0], area} : undefined;
}

/** The smallest area around cells, of which there is one at least. */
export const areaOfCells = (cells: readonly {readonly row: number; readonly column: number}[]): Area =>
  cells.reduce<Area>(
    ({top, left, bottom, right}, {row, column}) => ({
      top: Math.min(top, row),
      left: Math.min(left, column),
      bottom: Math.max(bottom, row),
      right: Math.max(right, column),
    }),
    oneCell(cells[0].row, cells[0].column),
  );

export const sameAreas = (a: readonly Area[], b: readonly Area[]): boolean =>
  a.length === b.length && a.every((area, i) => sameArea(area, b[i]));
