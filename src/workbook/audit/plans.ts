/** Sheets that an audit writes, before Excel is touched: a working, and a list of findings. */
import type {Finding} from '../../audit/check';
import type {WorkingSheet} from '../../working/workingOf';
import {plainText} from '../escape';
import {extent, place, type Look, type SheetPlan} from '../record/plan';

type Cell = SheetPlan['cells'][number];

const plan = (
  name: string,
  cells: readonly Cell[],
  looks: readonly Look[],
  widths: readonly number[],
  formats: SheetPlan['formats'] = [],
): SheetPlan => {
  const sheet = {
    name,
    cells,
    formats,
    looks,
    widths,
    heights: [],
    charts: [],
    page: {area: place(0, 0), paper: 'a4' as const, header: '', footer: ''},
  };
  return {...sheet, page: {...sheet.page, area: extent(sheet)}};
};

/** A working laid out as cells: native formulas, and last the difference to the function's figure. */
export function workingPlan({cells}: WorkingSheet): SheetPlan {
  const looks = cells.flatMap(({row, column, style}): Look[] => {
    const at = place(row, column);
    if (style === 'title') return [{at, bold: true, size: 14}];
    if (style === 'note') return [{at, italic: true}];
    if (style === 'heading') return [{at, bold: true, line: true}];
    return style === 'difference' ? [{at, bold: true}] : [];
  });
  return plan(
    'Working',
    cells.map(({row, column, value, formula}) => ({
      row,
      column,
      content: formula === undefined ? (typeof value === 'string' ? plainText(value) : (value ?? '')) : `=${formula}`,
    })),
    looks,
    [6, 16, 44, 40, 16, 10],
  );
}

const HEADINGS = ['Sheet', 'Cell', 'Kind', 'Shown', 'Computed', 'What to do'] as const;

/** The findings of a check, a row each. */
export function findingsPlan(findings: readonly Finding[], when: string): SheetPlan {
  const rows: string[][] = findings.map(({sheet, cell, kind, shown, computed, toDo, more}) => [
    sheet,
    more > 0 ? `${cell} and ${more} more` : cell,
    kind,
    shown,
    computed,
    toDo,
  ]);
  const first = 3;
  const cells: Cell[] = [
    {row: 0, column: 0, content: 'Check of this workbook'},
    {
      row: 1,
      column: 0,
      content: `${when}: ${counted(findings.length)}. It is a list of that moment and does not follow later changes.`,
    },
    ...HEADINGS.map((content, column) => ({row: first, column, content})),
    ...rows.flatMap((row, r) =>
      // The cells are formatted as text, where nothing is taken for a formula.
      row.map((content, column) => ({row: first + 1 + r, column, content})),
    ),
  ];
  const looks: Look[] = [
    {at: place(0, 0), bold: true, size: 14},
    {at: place(1, 0), italic: true},
    {at: place(first, 0, 1, HEADINGS.length), bold: true, line: true},
    ...(rows.length > 0 ? [{at: place(first + 1, 0, rows.length, HEADINGS.length), wrap: true, top: true}] : []),
  ];
  const texts = rows.length > 0 ? [{at: place(first + 1, 0, rows.length, HEADINGS.length), format: '@'}] : [];
  return plan('Check', cells, looks, [16, 16, 22, 36, 36, 60], texts);
}

export const counted = (findings: number): string =>
  findings === 0 ? 'nothing found' : findings === 1 ? '1 finding' : `${findings} findings`;
