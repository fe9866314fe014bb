/**
 * Calls of functions of the spreadsheet itself: those that choose between their arguments or look at where these are
 * stand here one by one, all others in natives.ts.
 */
import {cellError, isError, type CellValue} from '../../host/book/cells';
import {fixedReference, isOneCell, type Reference} from '../../host/formulas/references';
import type {CellReader} from './cellReader';
import {aggregate, applied, ELEMENTWISE, isAggregate, matchPosition, TESTS, type Given} from './natives';
import {hasWildcards} from './operators';
import {asFlag, asNumber, Beyond, isGrid, isRange, type Value} from './values';

export interface NativeArguments {
  readonly count: number;
  /** What an argument, from 0, comes to; it is not worked out before it is asked for. One that is left out is 0. */
  readonly value: (argument: number) => Value;
  /** Cells as they are wanted where the call stands. */
  readonly cells: (reference: Reference) => Value;
  readonly reader: CellReader;
}

/**
 * What a function of the spreadsheet gives.
 * @throws Beyond for one that is not known here
 */
export function nativeCall(name: string, args: NativeArguments): Value {
  const {count, value, reader} = args;
  const own = Object.hasOwn(SPECIAL, name) ? SPECIAL[name] : undefined;
  if (own) return own(args);
  const values = (): Value[] => Array.from({length: count}, (_, i) => value(i));
  if (isAggregate(name)) {
    const given = (one: Value): Given => (isRange(one) || isGrid(one) ? {cells: reader.grid(one)} : {single: one});
    return aggregate(name, values().map(given));
  }
  const test = Object.hasOwn(TESTS, name) ? TESTS[name] : undefined;
  if (test) return reader.each([value(0)], test);
  const function_ = Object.hasOwn(ELEMENTWISE, name) ? ELEMENTWISE[name] : undefined;
  if (!function_) throw new Beyond(`${name} is not worked out here`);
  if (count === 0) return applied(function_, []);
  return reader.each(values(), (...cells) => applied(function_, cells));
}

const SPECIAL: Readonly<Record<string, (args: NativeArguments) => Value>> = {
  IF: chosenByCondition,
  IFERROR: (args) => caught(args, isError),
  IFNA: (args) => caught(args, (cell) => isError(cell) && cell.code === '#N/A'),
  CHOOSE: ({count, value, reader}) => {
    const number = asNumber(reader.single(value(0)));
    if (isError(number)) return number;
    const chosen = Math.trunc(number);
    return chosen >= 1 && chosen < count ? value(chosen) : cellError('#VALUE!');
  },
  INDEX: indexed,
  MATCH: matched,
  ROWS: ({value, reader}) => reader.sides(value(0)).rows,
  COLUMNS: ({value, reader}) => reader.sides(value(0)).columns,
  ROW: (args) => placeOf('ROW', args).row + 1,
  COLUMN: (args) => placeOf('COLUMN', args).column + 1,
  ISBLANK: ({value, reader}) => reader.each([value(0)], (cell) => cell === null),
  NA: () => cellError('#N/A'),
  TRUE: () => true,
  FALSE: () => false,
};

/** An argument as one value, or what stands for it when it is not given. */
const single = ({count, value, reader}: NativeArguments, i: number, otherwise: CellValue): CellValue =>
  i < count ? reader.single(value(i)) : otherwise;

function chosenByCondition({count, value, reader}: NativeArguments): Value {
  const otherwise = (): Value => (count > 2 ? value(2) : false);
  const tested = reader.grid(value(0));
  if (tested.length === 1 && tested[0].length === 1) {
    const flag = asFlag(tested[0][0]);
    return isError(flag) ? flag : flag ? value(1) : otherwise();
  }
  return reader.each([tested, value(1), otherwise()], (cell, yes, no) => {
    const flag = asFlag(cell);
    return isError(flag) ? flag : flag ? yes : no;
  });
}

function caught({value, reader}: NativeArguments, isCaught: (cell: CellValue) => boolean): Value {
  const first = value(0);
  const cells = reader.grid(first);
  if (!cells.some((row) => row.some(isCaught))) return first;
  return reader.each([cells, value(1)], (cell, instead) => (isCaught(cell) ? instead : cell));
}

function matched(args: NativeArguments): Value {
  const {value, reader} = args;
  const list = reader.grid(value(1)).flat();
  const type = asNumber(single(args, 2, 1));
  if (isError(type)) return type;
  const wanted = value(0);
  if (type === 0 && hasWildcards(reader.grid(wanted))) throw new Beyond('MATCH with * or ? is not worked out here');
  return reader.each([wanted], (cell) => matchPosition(cell, list, type));
}

/** The cell that ROW or COLUMN asks for: that of its argument, or that of the formula. */
function placeOf(name: string, {count, value, reader}: NativeArguments): {row: number; column: number} {
  if (count === 0) return reader.at;
  const of = value(0);
  if (!isRange(of) || !isOneCell(of.reference)) throw new Beyond(`${name} of several cells is not worked out here`);
  return {row: of.reference.top, column: of.reference.left};
}

function indexed(args: NativeArguments): Value {
  const {count, value, reader, cells} = args;
  const of = value(0);
  const [first, second] = [asNumber(single(args, 1, 0)), asNumber(single(args, 2, null))];
  if (isError(first)) return first;
  if (isError(second)) return second;
  const {rows, columns} = reader.sides(of);
  // With one number, a single row is counted along.
  const along = count < 3 && rows === 1;
  const row = Math.trunc(along ? 1 : first);
  const column = Math.trunc(along ? first : count < 3 ? (columns === 1 ? 1 : 0) : second);
  if (row < 0 || column < 0 || row > rows || column > columns)
    return cellError('#REF!', 'INDEX points outside of its range');
  // 0 stands for all rows, or all columns.
  const [top, bottom] = row === 0 ? [0, rows - 1] : [row - 1, row - 1];
  const [left, right] = column === 0 ? [0, columns - 1] : [column - 1, column - 1];
  if (!isRange(of)) {
    return reader
      .grid(of)
      .slice(top, bottom + 1)
      .map((line) => line.slice(left, right + 1));
  }
  const {sheet, top: down, left: across} = of.reference;
  return cells(
    fixedReference(sheet, {top: down + top, bottom: down + bottom, left: across + left, right: across + right}),
  );
}
