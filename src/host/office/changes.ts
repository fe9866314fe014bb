/** What a workbook tells of itself: to the grid that shows it, and to the panes that listen to it. */
import type {Area} from '../book/addresses';
import type {Shift} from './rewriting';
import type {Step} from './steps';

/**
 * What the grid has to draw anew. Contents of cells, and sheets that come, go, move or change their name, are not told
 * here: the calculation passes them to the engine, which draws them.
 */
export type BookChange =
  | {readonly kind: 'looks'; readonly sheetId: string; readonly area: Area}
  | {readonly kind: SheetChangeKind; readonly sheetId: string}
  | {readonly kind: 'tables'}
  | {readonly kind: 'names'}
  /** The order, the names or the number of the sheets. */
  | {readonly kind: 'sheets'}
  | {readonly kind: 'active'}
  | {readonly kind: 'selection'}
  /** Edits that a user undoes as one; the grid puts it into its list. */
  | {readonly kind: 'step'; readonly step: Step};

/**
 * Parts of a sheet. "sizes": widths, heights, hidden rows and columns, and the looks of whole ones; "sheet": frozen
 * panes, grid lines, visibility, color of the tab, protection.
 */
export type SheetChangeKind = 'sizes' | 'sheet' | 'merges' | 'charts' | 'conditional' | 'validations' | 'page';

export type ContentsChangeType =
  'RangeEdited' | 'RowInserted' | 'RowDeleted' | 'ColumnInserted' | 'ColumnDeleted' | 'CellInserted' | 'CellDeleted';

/** What panes can listen to. */
export type BookEvent =
  | {
      readonly kind: 'contents';
      readonly sheetId: string;
      readonly area: Area;
      readonly changeType: ContentsChangeType;
      readonly shift?: 'Down' | 'Right' | 'Up' | 'Left';
    }
  /** Cells were inserted or deleted. */
  | {readonly kind: 'moved'; readonly sheetId: string; readonly shift: Shift}
  | {readonly kind: 'format'; readonly sheetId: string; readonly area: Area}
  | {readonly kind: 'selection'; readonly sheetId: string; readonly areas: readonly Area[]}
  | {readonly kind: 'activated'; readonly sheetId: string}
  | {readonly kind: 'deactivated'; readonly sheetId: string}
  | {readonly kind: 'added'; readonly sheetId: string}
  | {readonly kind: 'deleted'; readonly sheetId: string}
  | {readonly kind: 'renamed'; readonly sheetId: string; readonly before: string; readonly after: string}
  | {readonly kind: 'calculated'}
  | {readonly kind: 'tableAdded'; readonly sheetId: string; readonly tableId: string; readonly name: string}
  | {readonly kind: 'tableDeleted'; readonly sheetId: string; readonly tableId: string; readonly name: string};
