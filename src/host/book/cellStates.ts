/** The cells of an open workbook: as the host keeps them, and as the engine gets them. */
import type {EngineCell} from '../engine/engineCells';
import type {Surroundings, Translation} from '../formulas/surroundings';
import {translate} from '../formulas/translate';
import {cellKey, type Area, type Place} from './addresses';
import type {CellValue} from './cells';
import type {CellContent, CellFormula} from './content';

export interface FormulaState {
  readonly content: CellFormula;
  /** What the file had as its value. */
  readonly stored: CellValue;
  readonly translation: Translation;
  /** The place for which it was translated: with a group, that of another cell. */
  readonly origin: Place;
  /** The number under which the engine knows the formula that this cell shares with others. */
  readonly shared: string | undefined;
  /** The engine has the text of the formula from this cell; the others that share it refer to it. */
  readonly bearsText: boolean;
  /** Why it is not calculated. */
  readonly kept: string | undefined;
}

export interface CellState {
  readonly row: number;
  readonly column: number;
  readonly value: CellValue;
  readonly formula?: FormulaState;
}

export interface Sheet {
  readonly id: string;
  name: string;
  readonly cells: Map<number, CellState>;
  /** What the cells show, blank ones left out. */
  values: Map<number, CellValue>;
  /** The cells that the formula of a cell fills, when there are several. */
  areas: Map<number, Area>;
}

export interface Prepared {
  readonly state: CellState;
  readonly engine: EngineCell;
}

/** A formula of a group, translated once for all its cells for which the translation holds. */
interface Group {
  readonly translation: Translation;
  readonly origin: Place;
  readonly shared: string;
}

/** Prepares the cells of a sheet as read from a file, those of a group together. */
export function* prepareSheet(
  sheet: Sheet,
  contents: readonly CellContent[],
  surroundings: Surroundings,
): Iterable<EngineCell> {
  const groups = new Map<string, Group[]>();
  for (const content of contents) {
    const {state, engine} = prepareStored(sheet.name, content, groups, surroundings);
    sheet.cells.set(cellKey(content.row, content.column), state);
    yield engine;
  }
}

function prepareStored(
  sheet: string,
  content: CellContent,
  groups: Map<string, Group[]>,
  surroundings: Surroundings,
): Prepared {
  const {row, column, value, formula} = content;
  if (formula?.group === undefined) return prepareCell(sheet, content, surroundings);
  const name = `${formula.kind}${formula.group}`;
  const known = groups.get(name) ?? [];
  groups.set(name, known);
  const found = known.find(({translation: {rows}}) => row >= rows.from && row <= rows.to);
  if (found) {
    const state = {...found, content: formula, stored: value, bearsText: false, kept: found.translation.beyond};
    return prepared(row, column, value, state);
  }
  const origin = {sheet, row, column};
  const translation = translate(formula.text, origin, formula.kind, surroundings);
  const group = {translation, origin, shared: `${name}-${known.length}`};
  known.push(group);
  const state = {...group, content: formula, stored: value, bearsText: true, kept: translation.beyond};
  return prepared(row, column, value, state);
}

/**
 * Prepares a cell by itself. When the host cannot calculate its formula, the value that the file has is kept: it is
 * better than an error of ours. What does not come from a file as it is (`isNew`) is calculated in any case.
 */
export function prepareCell(
  sheet: string,
  {row, column, value, formula}: CellContent,
  surroundings: Surroundings,
  isNew = false,
): Prepared {
  if (!formula) return {state: {row, column, value}, engine: {row, column, value}};
  const origin = {sheet, row, column};
  const translation = translate(formula.text, origin, formula.kind, surroundings);
  const kept = isNew ? undefined : translation.beyond;
  const state = {content: formula, stored: value, translation, origin, shared: undefined, bearsText: true, kept};
  return prepared(row, column, value, state);
}

function prepared(row: number, column: number, value: CellValue, formula: FormulaState): Prepared {
  const {content, translation, shared, bearsText, kept} = formula;
  const state = {row, column, value, formula};
  if (kept !== undefined) return {state, engine: {row, column, value}};
  return {
    state,
    engine: {
      row,
      column,
      formula: {
        ...(bearsText ? {text: translation.text} : {}),
        ...(shared === undefined ? {} : {shared}),
        kind: content.kind,
        ...(content.area ? {area: content.area} : {}),
      },
    },
  };
}

/** When a cell is changed whose formula others share, one of these has to bring its text from then on. */
export function heir(sheet: Sheet, at: number, surroundings: Surroundings): Prepared | undefined {
  const left = sheet.cells.get(at)?.formula;
  if (!left?.bearsText || left.shared === undefined) return undefined;
  for (const [key, {row, column, value, formula}] of sheet.cells) {
    if (key === at || formula?.shared !== left.shared) continue;
    const origin = {sheet: sheet.name, row, column};
    const translation = translate(formula.content.text, origin, formula.content.kind, surroundings);
    return prepared(row, column, value, {...formula, translation, origin, bearsText: true});
  }
  return undefined;
}

/** A formula outside of its group. */
export const alone = ({text, kind, area}: CellFormula): CellFormula => ({text, kind, area});
