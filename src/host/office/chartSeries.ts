/** The series of a new chart. */
import {oneCell, type Area} from '../book/addresses';
import {isError, type CellValue} from '../book/cells';
import {columnCount, rowCount} from './areas';
import type {HostBook} from './hostBook';
import type {CellsOf, SeriesState} from './state';

/** The series that Excel makes of a block of cells: headings first, and labels before the numbers. */
export function seriesOf(
  book: HostBook,
  {sheetId, area}: CellsOf,
  by: 'Columns' | 'Rows',
  type: string,
): SeriesState[] {
  const inColumns = by === 'Columns';
  const at = (along: number, across: number): CellValue =>
    inColumns
      ? book.value(sheetId, area.top + along, area.left + across)
      : book.value(sheetId, area.top + across, area.left + along);
  const [length, width] = inColumns ? [rowCount(area), columnCount(area)] : [columnCount(area), rowCount(area)];
  const isText = (value: CellValue): boolean => typeof value === 'string' && value !== '';
  const isLabel = (value: CellValue): boolean => value === null || isText(value) || isError(value);
  const hasHeadings =
    length > 1 &&
    Array.from({length: width}, (_, i) => at(0, i))
      .slice(-1)
      .every(isText);
  const start = hasHeadings ? 1 : 0;
  const isXY = /^(?:XYScatter|Bubble)/.test(type);
  const hasLabels =
    width > 1 &&
    (isXY ||
      Array.from({length: length - start}, (_, i) => at(start + i, 0)).every(isLabel) ||
      (hasHeadings && at(0, 0) === null));
  const strip = (across: number, from: number): CellsOf => ({
    sheetId,
    area: inColumns
      ? {top: area.top + from, left: area.left + across, bottom: area.bottom, right: area.left + across}
      : {top: area.top + across, left: area.left + from, bottom: area.top + across, right: area.right},
  });
  const first = hasLabels ? 1 : 0;
  return Array.from({length: width - first}, (_, i): SeriesState => {
    const across = first + i;
    const heading: Area = inColumns ? oneCell(area.top, area.left + across) : oneCell(area.top + across, area.left);
    return {
      id: String(book.newId()),
      name: hasHeadings ? {sheetId, area: heading} : `Series${i + 1}`,
      chartType: undefined,
      values: strip(across, start),
      xValues: hasLabels ? strip(0, start) : undefined,
      set: {},
    };
  });
}

/** Whether a block of cells has its series in columns or in rows, when nobody says it. */
export const usualDirection = (area: Area): 'Columns' | 'Rows' =>
  rowCount(area) >= columnCount(area) ? 'Columns' : 'Rows';
