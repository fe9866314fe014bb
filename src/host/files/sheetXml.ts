/** The XML of a sheet: walking its cells, and changing some of them with all other text as it was. */
import {areaAddress, cellAddress, parseArea, parseCell, type Area} from '../book/addresses';
import {changedCell, newCell, type CellChange} from './cellXml';
import {FileProblem} from './problems';
import {attribute, tags, withAttribute, type Tag} from './xml';

export interface CellXml {
  readonly row: number;
  readonly column: number;
  /** Its opening tag. */
  readonly tag: Tag;
  /** Position behind its closing tag. */
  readonly end: number;
}

type Step =
  | {readonly kind: 'row'; readonly row: number; readonly tag: Tag}
  | {readonly kind: 'rowEnd'; readonly row: number; readonly tag: Tag}
  | ({readonly kind: 'cell'} & CellXml)
  | {readonly kind: 'dataEnd' | 'dataEmpty'; readonly tag: Tag}
  | {readonly kind: 'other'; readonly tag: Tag};

/** Rows, cells and their ends, in the order of the text. Rows and cells without an address follow the one before. */
function* steps(xml: string): Generator<Step, void> {
  let inData = false;
  let row = -1;
  let column = -1;
  let cell: {row: number; column: number; tag: Tag} | undefined;
  for (const tag of tags(xml)) {
    if (!inData) {
      if (tag.local === 'sheetData') {
        inData = tag.kind === 'open';
        if (tag.kind === 'empty') yield {kind: 'dataEmpty', tag};
      } else yield {kind: 'other', tag};
    } else if (tag.local === 'sheetData') {
      inData = false;
      yield {kind: 'dataEnd', tag};
    } else if (tag.local === 'row') {
      if (tag.kind !== 'close') {
        const number = attribute(tag.attributes, 'r');
        row = number === undefined ? row + 1 : Number(number) - 1;
        column = -1;
        yield {kind: 'row', row, tag};
      } else yield {kind: 'rowEnd', row, tag};
    } else if (tag.local === 'c') {
      if (tag.kind !== 'close') {
        const address = attribute(tag.attributes, 'r');
        const parsed = address === undefined ? undefined : parseCell(address);
        if (address !== undefined && !parsed)
          throw new FileProblem(`is damaged: ${address} is not the address of a cell`);
        column = parsed ? parsed.column : column + 1;
        cell = {row: parsed?.row ?? row, column, tag};
      }
      if (tag.kind !== 'open' && cell) {
        yield {kind: 'cell', ...cell, end: tag.end};
        cell = undefined;
      }
    }
  }
}

/** The cells of a sheet, in the order of the text. */
export function* cellsOf(xml: string): Generator<CellXml, void> {
  for (const step of steps(xml)) if (step.kind === 'cell') yield step;
}

/** Changes of a sheet, by row and column. */
export type SheetChanges = ReadonlyMap<number, ReadonlyMap<number, CellChange>>;

export interface RowChange {
  /** In points; 0 when hidden, undefined for the usual height. */
  readonly height: number | undefined;
  /** The number of the style of its empty cells; undefined leaves it. */
  readonly style: number | undefined;
}

export type RowChanges = ReadonlyMap<number, RowChange>;

const NO_CELLS: ReadonlyMap<number, CellChange> = new Map();
const NO_ROWS: RowChanges = new Map();

/** The sheet's XML with the changes made. Cells and rows that are not there yet are put where they belong. */
export function changedSheet(xml: string, changes: SheetChanges, rows: RowChanges = NO_ROWS): string {
  return new Changing(xml, changes, rows).text();
}

function changedRow(attributes: string, change: RowChange | undefined): string {
  if (!change) return attributes;
  const {height, style} = change;
  const isHidden = height === 0;
  let made = withAttribute(attributes, 'ht', height === undefined || isHidden ? undefined : String(height));
  made = withAttribute(made, 'customHeight', height === undefined || isHidden ? undefined : '1');
  made = withAttribute(made, 'hidden', isHidden ? '1' : undefined);
  if (style === undefined) return made;
  return withAttribute(withAttribute(made, 's', String(style)), 'customFormat', '1');
}

class Changing {
  readonly #pieces: string[] = [];
  #copied = 0;
  /** Rows and, within the row at hand, columns still to be changed, the nearest last. */
  readonly #rows: number[];
  #columns: number[] = [];
  #prefix = '';
  readonly #columnStyles: {min: number; max: number; style: string}[] = [];
  #rowStyle: string | undefined;

  constructor(
    private readonly xml: string,
    private readonly changes: SheetChanges,
    private readonly rows: RowChanges,
  ) {
    this.#rows = sortedDown(new Set([...changes.keys(), ...rows.keys()]));
  }

  text(): string {
    for (const step of steps(this.xml)) this.#take(step);
    if (this.#rows.length > 0) throw new FileProblem('is damaged: a sheet of it has no cells part');
    this.#pieces.push(this.xml.slice(this.#copied));
    return this.#pieces.join('');
  }

  #take(step: Step): void {
    const {tag} = step;
    switch (step.kind) {
      case 'other':
        if (tag.local === 'dimension') this.#dimension(tag);
        if (tag.local === 'col' && tag.kind !== 'close') this.#columnStyle(tag);
        return;
      case 'row':
        this.#prefix = tag.name.slice(0, tag.name.length - tag.local.length);
        this.#newRows(step.row, tag.start);
        if (this.#rows.at(-1) === step.row) this.#row(step.row, tag);
        return;
      case 'cell':
        this.#newCells(step.row, step.column, tag.start);
        if (this.#columns.at(-1) === step.column) {
          const change = this.changes.get(step.row)!.get(this.#columns.pop()!)!;
          this.#replace(tag.start, step.end, changedCell(this.xml.slice(tag.start, step.end), change));
        }
        return;
      case 'rowEnd':
        this.#newCells(step.row, Infinity, tag.start);
        return;
      case 'dataEnd':
        this.#prefix = tag.name.slice(0, tag.name.length - tag.local.length);
        this.#newRows(Infinity, tag.start);
        return;
      case 'dataEmpty':
        this.#prefix = tag.name.slice(0, tag.name.length - tag.local.length);
        this.#replace(tag.start, tag.end, `<${tag.name}${tag.attributes}>`);
        this.#newRows(Infinity, tag.end);
        this.#pieces.push(`</${tag.name}>`);
    }
  }

  #replace(start: number, end: number, text: string): void {
    this.#pieces.push(this.xml.slice(this.#copied, start), text);
    this.#copied = end;
  }

  /** A row that is there and has changes. */
  #row(row: number, tag: Tag): void {
    this.#rows.pop();
    this.#columns = sortedDown(this.#cells(row).keys());
    this.#rowStyle = attribute(tag.attributes, 'customFormat') === '1' ? attribute(tag.attributes, 's') : undefined;
    const attributes = changedRow(this.#spans(tag.attributes, row), this.rows.get(row));
    if (tag.kind === 'open') {
      if (attributes !== tag.attributes) this.#replace(tag.start, tag.end, `<${tag.name}${attributes}>`);
      return;
    }
    const cells = this.#madeCells(row, Infinity);
    if (cells !== '') this.#replace(tag.start, tag.end, `<${tag.name}${attributes}>${cells}</${tag.name}>`);
    else if (attributes !== tag.attributes) this.#replace(tag.start, tag.end, `<${tag.name}${attributes}/>`);
  }

  /** The hint of a row about its columns covers what is written into it. */
  #spans(attributes: string, row: number): string {
    const found = /^(\d+):(\d+)$/.exec(attribute(attributes, 'spans') ?? '');
    if (!found) return attributes;
    const columns = this.#written(row).map((column) => column + 1);
    const [first, last] = [Math.min(Number(found[1]), ...columns), Math.max(Number(found[2]), ...columns)];
    return first === Number(found[1]) && last === Number(found[2])
      ? attributes
      : withAttribute(attributes, 'spans', `${first}:${last}`);
  }

  #cells(row: number): ReadonlyMap<number, CellChange> {
    return this.changes.get(row) ?? NO_CELLS;
  }

  /** Columns of a row that get something. */
  #written(row: number): number[] {
    return [...this.#cells(row)].flatMap(([column, change]) => (isNothing(change) ? [] : [column]));
  }

  #newRows(before: number, at: number): void {
    let made = '';
    while (this.#rows.length > 0 && this.#rows.at(-1)! < before) {
      const row = this.#rows.pop()!;
      this.#columns = sortedDown(this.#cells(row).keys());
      this.#rowStyle = undefined;
      const cells = this.#madeCells(row, Infinity);
      const name = `${this.#prefix}row`;
      const attributes = changedRow(` r="${row + 1}"`, this.rows.get(row));
      if (cells !== '') made += `<${name}${attributes}>${cells}</${name}>`;
      else if (this.rows.has(row)) made += `<${name}${attributes}/>`;
    }
    if (made !== '') this.#replace(at, at, made);
  }

  #newCells(row: number, before: number, at: number): void {
    const cells = this.#madeCells(row, before);
    if (cells !== '') this.#replace(at, at, cells);
  }

  #madeCells(row: number, before: number): string {
    let made = '';
    while (this.#columns.length > 0 && this.#columns.at(-1)! < before) {
      const column = this.#columns.pop()!;
      const change = this.changes.get(row)!.get(column)!;
      if (isNothing(change)) continue;
      const style = this.#rowStyle ?? this.#columnStyles.find(({min, max}) => column >= min && column <= max)?.style;
      made += newCell(this.#prefix, cellAddress(row, column), style, change);
    }
    return made;
  }

  #columnStyle({attributes}: Tag): void {
    const style = attribute(attributes, 'style');
    if (style === undefined || style === '0') return;
    this.#columnStyles.push({
      min: Number(attribute(attributes, 'min')) - 1,
      max: Number(attribute(attributes, 'max')) - 1,
      style,
    });
  }

  /** The hint of a sheet about its extent covers what is written into it. */
  #dimension(tag: Tag): void {
    const area = parseArea(attribute(tag.attributes, 'ref') ?? '');
    if (!area) return;
    let {top, left, bottom, right}: Area = area;
    for (const row of this.changes.keys()) {
      for (const column of this.#written(row)) {
        top = Math.min(top, row);
        left = Math.min(left, column);
        bottom = Math.max(bottom, row);
        right = Math.max(right, column);
      }
    }
    const ref = areaAddress({top, left, bottom, right});
    if (ref === areaAddress(area)) return;
    const closing = tag.kind === 'empty' ? '/' : '';
    this.#replace(tag.start, tag.end, `<${tag.name}${withAttribute(tag.attributes, 'ref', ref)}${closing}>`);
  }
}

const isNothing = ({value, formula, style, keepsContent}: CellChange): boolean =>
  style === undefined && (keepsContent === true || (value === null && !formula));

const sortedDown = (numbers: Iterable<number>): number[] => [...numbers].sort((a, b) => b - a);

/** Addresses for cells and rows that have none, which some programs leave out. */
export function withAddresses(xml: string): string {
  const pieces: string[] = [];
  let copied = 0;
  for (const step of steps(xml)) {
    if (step.kind !== 'cell' && step.kind !== 'row') continue;
    const {tag} = step;
    if (attribute(tag.attributes, 'r') !== undefined) continue;
    const address = step.kind === 'row' ? String(step.row + 1) : cellAddress(step.row, step.column);
    pieces.push(xml.slice(copied, tag.start), `<${tag.name}${withAttribute(tag.attributes, 'r', address)}`);
    pieces.push(tag.kind === 'empty' ? '/>' : '>');
    copied = tag.end;
  }
  return copied === 0 ? xml : pieces.join('') + xml.slice(copied);
}

/** A merged cell of more cells than this is no part of a table; going through all of them would take minutes. */
const LARGEST_MERGE = 100_000;

/** The sheet without merged cells that cover it all but wholly. */
export function withoutHugeMerges(xml: string): string {
  const pieces: string[] = [];
  let copied = 0;
  let closing = false;
  for (const {local, kind, start, end, attributes} of tags(xml, Math.max(0, xml.lastIndexOf('sheetData')))) {
    if (local !== 'mergeCell') continue;
    if (closing) copied = end;
    closing &&= kind !== 'close';
    if (kind === 'close') continue;
    const area = parseArea(attribute(attributes, 'ref') ?? '');
    if (!area || (area.bottom - area.top + 1) * (area.right - area.left + 1) <= LARGEST_MERGE) continue;
    pieces.push(xml.slice(copied, start));
    copied = end;
    closing = kind === 'open';
  }
  return copied === 0 ? xml : pieces.join('') + xml.slice(copied);
}
