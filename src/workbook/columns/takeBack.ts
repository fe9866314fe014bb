/** Taking a filling back: what was written, and how the sheet becomes what it was. */
import type {Block, Formulas, TargetSheet} from './target';

/** What is written in one go. */
export interface Part {
  readonly block: Block;
  /** Made when they are sent, so that a long sheet begins to fill at once. */
  readonly formulas: () => Formulas;
  readonly before: Formulas;
  /** Records filled once this part is written; 0 for headings. */
  readonly records: number;
  /** All its columns are new: their format is ours too. */
  readonly isFresh: boolean;
}

/** What is needed to take a filling back. */
export interface Undo {
  /** Columns that the table had, if it was widened. */
  readonly tableColumns: number | undefined;
  readonly blocks: readonly Pick<Part, 'block' | 'before' | 'isFresh'>[];
  /** What may be written; it is looked at before anything is taken back. */
  readonly uncertain: readonly Part[];
}

/** Puts back what stood in the cells before; a table gets the columns that it had. */
export async function takeBack(sheet: TargetSheet, {tableColumns, blocks}: Omit<Undo, 'uncertain'>): Promise<void> {
  if (tableColumns !== undefined) sheet.resizeTable(tableColumns);
  for (const part of blocks) {
    if (wasEmpty(part)) {
      sheet.clear(part.block);
      if (part.isFresh) sheet.format(part.block, 'General');
    } else sheet.write(part.block, part.before);
  }
  await sheet.send();
}

export const wasEmpty = ({before}: Pick<Part, 'before'>): boolean =>
  before.every((row) => row.every((cell) => cell === ''));
