/** Which formulas read which cells, and so have to be calculated when these change. */
import {cellKey, COLUMNS, meet, type Area} from '../book/addresses';

export interface SheetArea {
  readonly sheet: string;
  readonly area: Area;
}

/** A formula: the cells that show it and the cells that it reads. */
export interface Reader {
  readonly shows: SheetArea;
  readonly reads: readonly SheetArea[];
}

interface Entry {
  readonly area: Area;
  readonly reader: number;
}

interface SheetIndex {
  /** Readers of single cells, by cell. */
  readonly cells: Map<number, number[]>;
  /** Readers of ranges of few rows, by row. */
  readonly rows: Map<number, Entry[]>;
  /** Readers of ranges of many rows. */
  readonly tall: Entry[];
}

/** A range of more rows than this is not filed under each of them. */
const FEW_ROWS = 64;

export class Dependents {
  readonly #sheets = new Map<string, SheetIndex>();

  constructor(private readonly readers: readonly Reader[]) {
    readers.forEach(({reads}, reader) => {
      for (const {sheet, area} of reads) this.#file(sheet, area, reader);
    });
  }

  /** All readers of these cells, readers of these readers, and so on, by their index. */
  of(seeds: readonly SheetArea[]): ReadonlySet<number> {
    const found = new Set<number>();
    const waiting = [...seeds];
    for (let next = waiting.pop(); next; next = waiting.pop()) {
      for (const reader of this.#readersOf(next)) {
        if (found.has(reader)) continue;
        found.add(reader);
        waiting.push(this.readers[reader].shows);
      }
    }
    return found;
  }

  #file(sheet: string, area: Area, reader: number): void {
    const index = this.#index(sheet);
    const {top, left, bottom, right} = area;
    if (bottom - top >= FEW_ROWS) index.tall.push({area, reader});
    else if (top === bottom && left === right) push(index.cells, cellKey(top, left), reader);
    else for (let row = top; row <= bottom; row++) push(index.rows, row, {area, reader});
  }

  #index(sheet: string): SheetIndex {
    let index = this.#sheets.get(sheet);
    if (!index) this.#sheets.set(sheet, (index = {cells: new Map(), rows: new Map(), tall: []}));
    return index;
  }

  *#readersOf({sheet, area}: SheetArea): Iterable<number> {
    const index = this.#sheets.get(sheet);
    if (!index) return;
    yield* cellReaders(index.cells, area);
    for (const entry of index.tall) if (meet(entry.area, area)) yield entry.reader;
    const rows = area.bottom - area.top + 1;
    const lists =
      rows <= index.rows.size
        ? Array.from({length: rows}, (_, i) => index.rows.get(area.top + i) ?? [])
        : [...index.rows].filter(([row]) => row >= area.top && row <= area.bottom).map(([, list]) => list);
    for (const list of lists) for (const entry of list) if (meet(entry.area, area)) yield entry.reader;
  }
}

function* cellReaders(cells: ReadonlyMap<number, number[]>, {top, left, bottom, right}: Area): Iterable<number> {
  if ((bottom - top + 1) * (right - left + 1) <= cells.size) {
    for (let row = top; row <= bottom; row++) {
      for (let column = left; column <= right; column++) yield* cells.get(cellKey(row, column)) ?? [];
    }
    return;
  }
  for (const [key, readers] of cells) {
    const row = Math.floor(key / COLUMNS);
    const column = key % COLUMNS;
    if (row >= top && row <= bottom && column >= left && column <= right) yield* readers;
  }
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
