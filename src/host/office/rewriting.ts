/** Rewriting formulas when what they refer to is renamed or moves. */
import {parseA1Ref, parseStructRef, stringifyA1Ref, stringifyStructRef, tokenize, type Token} from '@borgar/fx';
import {COLUMNS, ROWS, sheetPrefix, within, type Area, type Place} from '../book/addresses';
import {alone} from '../book/cellStates';
import type {CellContent, Table} from '../book/content';
import type {HostBook} from './hostBook';

/** Makes another formula of one at a place; the same text when nothing changes. Formulas have no "=". */
export type Rewriting = (formula: string, home: Place) => string;

/** Rewrites formulas of cells and names. */
export function rewriteAll(book: HostBook, rewriting: Rewriting): void {
  for (const {id, name, cells} of book.sheets) {
    const changed: CellContent[] = [];
    for (const {row, column, formula} of cells.values()) {
      if (!formula) continue;
      const text = rewriting(formula.content.text, {sheet: name, row, column});
      if (text === formula.content.text) continue;
      changed.push({row, column, value: null, formula: {...alone(formula.content), text}});
    }
    book.write(id, changed);
  }
  const names = book.names.map((one) => {
    const sheet = one.sheetId === undefined ? '' : book.sheet(one.sheetId).name;
    const formula = rewriting(one.formula, {sheet, row: -1, column: -1});
    return formula === one.formula ? one : {...one, formula};
  });
  if (names.some((one, i) => one !== book.names[i])) book.setNames(names);
}

function withTokens(formula: string, rewrite: (token: Token) => string): string {
  const tokens = tokenize(formula, {mergeRefs: true});
  return tokens.map((token) => rewrite(token)).join('');
}

const isRange = ({type}: Token): boolean => type === 'range' || type === 'range_beam' || type === 'range_ternary';

/** A sheet has got another name. */
export function renamedSheet(before: string, after: string): Rewriting {
  const wanted = before.toLowerCase();
  return (formula) => {
    if (!formula.toLowerCase().includes(wanted.replace(/'/g, "''"))) return formula;
    return withTokens(formula, (token) => {
      const end = token.value.lastIndexOf('!');
      if (end < 0 || !(isRange(token) || token.type === 'range_named')) return token.value;
      const written = token.value
        .slice(0, end)
        .replace(/^'(.*)'$/s, '$1')
        .replace(/''/g, "'");
      return written.toLowerCase() === wanted ? sheetPrefix(after) + token.value.slice(end + 1) : token.value;
    });
  };
}

/** A table has got another name. */
export function renamedTable(before: string, after: string): Rewriting {
  const wanted = before.toLowerCase();
  return (formula) => {
    if (!formula.toLowerCase().includes(wanted)) return formula;
    return withTokens(formula, ({type, value}) => {
      if (type === 'range_named') return value.toLowerCase() === wanted ? after : value;
      if (type !== 'structured') return value;
      const parsed = parseStructRef(value);
      if (parsed?.table?.toLowerCase() !== wanted) return value;
      return stringifyStructRef({...parsed, table: after}, {thisRow: !value.includes('@')});
    });
  };
}

/** A column of a table has got another name. Formulas within the table may leave out the table's name. */
export function renamedColumn({name: table, sheet, area}: Table, before: string, after: string): Rewriting {
  const wanted = before.toLowerCase();
  return (formula, home) => {
    if (!formula.includes('[')) return formula;
    const isInside = home.sheet === sheet && within(area, home.row, home.column);
    return withTokens(formula, ({type, value}) => {
      if (type !== 'structured') return value;
      const parsed = parseStructRef(value);
      if (!parsed?.columns) return value;
      if (parsed.table ? parsed.table.toLowerCase() !== table.toLowerCase() : !isInside) return value;
      const columns = parsed.columns.map((column) => (column.toLowerCase() === wanted ? after : column));
      if (columns.every((column, i) => column === parsed.columns![i])) return value;
      return stringifyStructRef({...parsed, columns}, {thisRow: !value.includes('@')});
    });
  };
}

/** Where cells of a sheet have gone; undefined for what is gone. */
export type Shift = (area: Area) => Area | undefined;

/** Cells of a sheet have moved. */
export function shiftedCells(sheet: string, shift: Shift): Rewriting {
  const wanted = sheet.toLowerCase();
  return (formula, {sheet: home}) => {
    if (home.toLowerCase() !== wanted && !formula.toLowerCase().includes(wanted)) return formula;
    return withTokens(formula, (token) =>
      isRange(token) ? shiftedReference(token.value, home, wanted, shift) : token.value,
    );
  };
}

function shiftedReference(value: string, home: string, wanted: string, shift: Shift): string {
  const parsed = parseA1Ref(value);
  if (!parsed || !('range' in parsed)) return value;
  const {context = [], range} = parsed;
  if ((context[0] ?? home).toLowerCase() !== wanted || context.length > 1) return value;
  const area = {
    top: range.top ?? 0,
    left: range.left ?? 0,
    bottom: range.bottom ?? range.top ?? ROWS - 1,
    right: range.right ?? range.left ?? COLUMNS - 1,
  };
  const to = shift(area);
  const prefix = value.slice(0, value.lastIndexOf('!') + 1);
  if (!to) return `${prefix}#REF!`;
  if (to.top === area.top && to.left === area.left && to.bottom === area.bottom && to.right === area.right)
    return value;
  const open = (side: keyof Area): boolean => range[side] === undefined || range[side] === null;
  const changed = {...range};
  for (const side of ['top', 'left', 'bottom', 'right'] as const) if (!open(side)) changed[side] = to[side];
  return prefix + stringifyA1Ref({range: changed});
}
