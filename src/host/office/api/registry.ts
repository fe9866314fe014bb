/** The classes of office.js that this host has, by their names there. */
import {CHART_PARTS} from './chartParts';
import {Chart, ChartCollection} from './charts';
import {ChartSeries, ChartSeriesCollection} from './chartSeries';
import {CONDITIONAL_PARTS, ConditionalFormat, ConditionalFormatCollection} from './conditional';
import {NamedItem, NamedItemCollection} from './names';
import {memberOf} from './officeObject';
import {PAGE_PARTS, PageBreak, PageBreakCollection, PageLayout} from './pageLayout';
import {Range} from './range';
import {RangeBorder, RangeBorderCollection} from './rangeBorders';
import {RangeFill, RangeFont} from './rangeFonts';
import {RangeFormat} from './rangeFormat';
import {TableColumn, TableColumnCollection} from './tableColumns';
import {TableRow, TableRowCollection} from './tableRows';
import {Table, TableCollection} from './tables';
import {DataValidation} from './validation';
import {Application, Workbook} from './workbook';
import {Worksheet} from './worksheet';
import {WorksheetFreezePanes, WorksheetProtection} from './worksheetParts';
import {WorksheetCollection} from './worksheets';

const CLASSES: Readonly<Record<string, {readonly prototype: object}>> = {
  ...CHART_PARTS,
  ...CONDITIONAL_PARTS,
  ...PAGE_PARTS,
  Application,
  Chart,
  ChartCollection,
  ChartSeries,
  ChartSeriesCollection,
  ConditionalFormat,
  ConditionalFormatCollection,
  DataValidation,
  NamedItem,
  NamedItemCollection,
  PageBreak,
  PageBreakCollection,
  PageLayout,
  Range,
  RangeBorder,
  RangeBorderCollection,
  RangeFill,
  RangeFont,
  RangeFormat,
  Table,
  TableCollection,
  TableColumn,
  TableColumnCollection,
  TableRow,
  TableRowCollection,
  Workbook,
  Worksheet,
  WorksheetCollection,
  WorksheetFreezePanes,
  WorksheetProtection,
};

/** How a member can be used here; undefined when it is not there. */
export function supported(
  className: string,
  member: string,
): {readonly read: boolean; readonly write: boolean; readonly call: boolean} | undefined {
  const found = Object.hasOwn(CLASSES, className) ? memberOf(CLASSES[className].prototype, member) : undefined;
  return found && {read: !!found.get, write: !!found.set, call: typeof found.value === 'function'};
}
