/** Where a range is, and the ranges that are found from it. */
import {cellOfKey, COLUMNS, oneCell, ROWS, within, type Area} from '../../book/addresses';
import {
  around,
  columnCount,
  common,
  fullAddress,
  isOnSheet,
  isWholeColumns,
  isWholeRows,
  moved,
  parseAddress,
  rowCount,
} from '../areas';
import type {HostBook} from '../hostBook';
import type {Shift} from '../rewriting';
import {surroundingArea, usedArea} from '../used';
import {number, OfficeObject, sameName, text, type Surrounding} from './officeObject';
import {invalid, notFound} from './problem';

/** A range that was deleted while a pane kept hold of it. */
const GONE: Area = {top: -1, left: -1, bottom: -1, right: -1};

/** @template R the whole class of ranges */
export abstract class RangePlace<R extends OfficeObject> extends OfficeObject {
  readonly officeType = 'Range';

  /** The cells; they move when cells before them are inserted or deleted. */
  area: Area;
  /** Moves along; what is deleted is there no more. */
  readonly follow: (shift: Shift) => void;
  /** Other cells of the sheet. */
  readonly at: (area: Area) => R;

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
    area: Area,
    make: (surrounding: Surrounding, sheetId: string, area: Area) => R,
  ) {
    super(surrounding);
    if (!isOnSheet(area)) throw invalid();
    this.area = area;
    this.follow = (shift) => void (this.area = shift(this.area) ?? GONE);
    this.at = (other) => make(surrounding, sheetId, other);
  }

  override identity(): Record<string, unknown> {
    return {_ReferenceId: this.surrounding.keep(this)};
  }

  // ---- where it is ----

  get address(): string {
    return fullAddress(bookOf(this).sheet(this.sheetId).name, this.area);
  }

  get addressLocal(): string {
    return this.address;
  }

  get rowIndex(): number {
    return this.area.top;
  }

  get columnIndex(): number {
    return this.area.left;
  }

  get rowCount(): number {
    return rowCount(this.area);
  }

  get columnCount(): number {
    return columnCount(this.area);
  }

  get cellCount(): number {
    const count = rowCount(this.area) * columnCount(this.area);
    return count > 2 ** 31 - 1 ? -1 : count;
  }

  get isEntireRow(): boolean {
    return isWholeRows(this.area);
  }

  get isEntireColumn(): boolean {
    return isWholeColumns(this.area);
  }

  // ---- other ranges ----

  getCell(row: unknown, column: unknown): R {
    return this.at(oneCell(this.area.top + number(row), this.area.left + number(column)));
  }

  getRow(row: unknown): R {
    const top = this.area.top + number(row);
    return this.at({...this.area, top, bottom: top});
  }

  getColumn(column: unknown): R {
    const left = this.area.left + number(column);
    return this.at({...this.area, left, right: left});
  }

  getLastRow(): R {
    return this.at({...this.area, top: this.area.bottom});
  }

  getLastColumn(): R {
    return this.at({...this.area, left: this.area.right});
  }

  getLastCell(): R {
    return this.at(oneCell(this.area.bottom, this.area.right));
  }

  getEntireRow(): R {
    return this.at({...this.area, left: 0, right: COLUMNS - 1});
  }

  getEntireColumn(): R {
    return this.at({...this.area, top: 0, bottom: ROWS - 1});
  }

  getOffsetRange(rows: unknown, columns: unknown): R {
    return this.at(moved(this.area, number(rows), number(columns)));
  }

  getResizedRange(rows: unknown, columns: unknown): R {
    const {bottom, right} = this.area;
    return this.at({...this.area, bottom: bottom + number(rows), right: right + number(columns)});
  }

  getAbsoluteResizedRange(rows: unknown, columns: unknown): R {
    const {top, left} = this.area;
    return this.at({top, left, bottom: top + number(rows) - 1, right: left + number(columns) - 1});
  }

  getRowsAbove(count: unknown = 1): R {
    const {top} = this.area;
    return this.at({...this.area, top: top - number(count), bottom: top - 1});
  }

  getRowsBelow(count: unknown = 1): R {
    const {bottom} = this.area;
    return this.at({...this.area, top: bottom + 1, bottom: bottom + number(count)});
  }

  getColumnsBefore(count: unknown = 1): R {
    const {left} = this.area;
    return this.at({...this.area, left: left - number(count), right: left - 1});
  }

  getColumnsAfter(count: unknown = 1): R {
    const {right} = this.area;
    return this.at({...this.area, left: right + 1, right: right + number(count)});
  }

  getBoundingRect(other: unknown): R {
    return this.at(around(this.area, otherRange(this, other).area));
  }

  getIntersection(other: unknown): R {
    const found = this.getIntersectionOrNullObject(other);
    if (!found) throw notFound();
    return found;
  }

  getIntersectionOrNullObject(other: unknown): R | null {
    const {sheetId, area} = otherRange(this, other);
    const both = sheetId === this.sheetId ? common(this.area, area) : undefined;
    return both ? this.at(both) : null;
  }

  getUsedRange(valuesOnly: unknown = false): R {
    const found = this.getUsedRangeOrNullObject(valuesOnly);
    return found ?? this.at(oneCell(this.area.top, this.area.left));
  }

  getUsedRangeOrNullObject(valuesOnly: unknown = false): R | null {
    const used = usedArea(bookOf(this), this.sheetId, valuesOnly === true, this.area);
    return used ? this.at(used) : null;
  }

  getSurroundingRegion(): R {
    return this.at(surroundingArea(bookOf(this), this.sheetId, this.area));
  }

  getSpillingToRange(): R {
    const found = this.getSpillingToRangeOrNullObject();
    if (!found) throw notFound();
    return found;
  }

  getSpillingToRangeOrNullObject(): R | null {
    const {top, left} = this.area;
    const found = spillsOf(this).find(({row, column}) => row === top && column === left);
    return found ? this.at(found.spilled) : null;
  }

  getSpillParent(): R {
    const found = this.getSpillParentOrNullObject();
    if (!found) throw notFound();
    return found;
  }

  getSpillParentOrNullObject(): R | null {
    const {top, left} = this.area;
    const found = spillsOf(this).find(({spilled}) => within(spilled, top, left));
    return found ? this.at(oneCell(found.row, found.column)) : null;
  }
}

/** @throws OfficeProblem when the sheet, or the cells, are there no more */
export function bookOf({surrounding, sheetId, area}: RangePlace<OfficeObject>): HostBook {
  if (!surrounding.book.has(sheetId) || area.top < 0) throw notFound();
  return surrounding.book;
}

/** A range that is given as such, or by its address. */
export function otherRange(
  from: RangePlace<OfficeObject>,
  given: unknown,
): {readonly sheetId: string; readonly area: Area} {
  if (given instanceof RangePlace) return given as RangePlace<OfficeObject>;
  const parsed = parseAddress(text(given));
  const sheetId =
    parsed?.sheet === undefined ? from.sheetId : bookOf(from).sheets.find(({name}) => sameName(name, parsed.sheet))?.id;
  if (!parsed || sheetId === undefined) throw invalid();
  return {sheetId, area: parsed.area};
}

/** Formulas of a sheet that fill several cells by themselves, and these cells. */
export function spillsOf(range: RangePlace<OfficeObject>): {
  readonly row: number;
  readonly column: number;
  readonly spilled: Area;
}[] {
  const {areas, cells} = bookOf(range).sheet(range.sheetId);
  return [...areas].flatMap(([at, spilled]) =>
    cells.get(at)?.formula?.content.kind === 'dynamic' ? [{...cellOfKey(at), spilled}] : [],
  );
}
