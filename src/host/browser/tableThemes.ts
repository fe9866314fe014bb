/** Drawing tables: their heading row and stripes, under the looks of the cells. */
import {areaAddress} from '../book/addresses';
import type {TableState} from '../office/state';
import type {Grid} from './grid';
import {gridRange} from './gridLook';

/** One quiet drawing for all styles of tables; its stripes come or go. */
const THEME = {striped: 'workbook-host-striped', plain: 'workbook-host-plain'};

const LINE = {s: 1, cl: {rgb: '#8A8A8A'}};
const HEADING = {bl: 1, bg: {rgb: '#E8EEF4'}, cl: {rgb: '#242424'}, bd: {t: LINE, b: LINE}};
const STRIPE = {bg: {rgb: '#F7F9FB'}};

export class TableThemes {
  /** What is drawn, by the ids of the tables. */
  readonly #drawn = new Map<string, {readonly key: string; readonly table: TableState}>();

  constructor(
    private readonly grid: Grid,
    private readonly unit: string,
  ) {
    for (const name of Object.values(THEME)) {
      const secondRowStyle = name === THEME.striped ? STRIPE : {};
      this.#mutate('add-range-theme', {
        styleJSON: {name, headerRowStyle: HEADING, firstRowStyle: {}, secondRowStyle, lastRowStyle: {bd: {b: LINE}}},
      });
    }
  }

  draw(tables: readonly TableState[]): void {
    const now = new Map(tables.map((table) => [table.id, table]));
    for (const [id, {key, table}] of this.#drawn) {
      const other = now.get(id);
      if (other && keyOf(other) === key) continue;
      this.#mutate('remove-worksheet-range-theme-style', themed(table));
      this.#drawn.delete(id);
    }
    for (const table of tables) {
      if (this.#drawn.has(table.id) || !table.header) continue;
      this.#mutate('set-worksheet-range-theme-style', themed(table));
      this.#drawn.set(table.id, {key: keyOf(table), table});
    }
  }

  #mutate(id: string, params: object): void {
    this.grid.mutate(`sheet.mutation.${id}`, {unitId: this.unit, ...params});
  }
}

const keyOf = ({sheetId, area, bandedRows}: TableState): string => `${sheetId} ${areaAddress(area)} ${bandedRows}`;

const themed = ({sheetId, area, bandedRows}: TableState) => ({
  subUnitId: sheetId,
  range: gridRange(area),
  themeName: bandedRows ? THEME.striped : THEME.plain,
});
