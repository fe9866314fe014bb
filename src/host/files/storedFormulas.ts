/** The formulas of a sheet as its XML has them. */
import {translateFormulaToA1, translateFormulaToR1C1} from '@borgar/fx';
import {cellAddress, parseArea, type Area} from '../book/addresses';
import type {CellValue} from '../book/cells';
import {formulaOf} from './cellXml';
import {FileProblem} from './problems';
import {cellsOf} from './sheetXml';
import {attribute, decodeXml, tags} from './xml';

export interface StoredFormulaCell {
  readonly row: number;
  readonly column: number;
  readonly value: CellValue;
  /** The number of the formula that several cells share. */
  readonly shared: string | undefined;
  /** It brings the text that the others share. */
  readonly master: boolean;
  /** The cells of an array formula of fixed size. */
  readonly fixed: Area | undefined;
  /** Without "=". */
  readonly text: () => string;
}

interface Master {
  readonly text: string;
  readonly address: string;
}

/** All formula cells of a sheet. `isDynamic` tells by a cell's `cm` whether its array spills. */
export function storedFormulas(xml: string, isDynamic: (cm: string | undefined) => boolean): StoredFormulaCell[] {
  const masters = new Map<string | undefined, Master>();
  const found: StoredFormulaCell[] = [];
  for (const {row, column, tag, end} of cellsOf(xml)) {
    const cell = xml.slice(tag.start, end);
    const formula = /[<:]f[\s/>]/.test(cell) ? formulaOf(cell) : undefined;
    if (!formula) continue;
    const {type, text, ref, shared} = formula;
    const master = type === 'shared' && text !== '';
    if (master) masters.set(shared, {text, address: cellAddress(row, column)});
    const isFixed = type === 'array' && !isDynamic(attribute(tag.attributes, 'cm'));
    found.push({
      row,
      column,
      value: storedValue(cell),
      shared: type === 'shared' ? shared : undefined,
      master,
      fixed: isFixed ? parseArea(ref ?? '') : undefined,
      text: () => (type === 'shared' && !master ? filled(masters.get(shared), row, column) : text),
    });
  }
  return found;
}

function filled(master: Master | undefined, row: number, column: number): string {
  if (!master) throw new FileProblem('is damaged: a shared formula of it is missing');
  return translateFormulaToA1(translateFormulaToR1C1(master.text, master.address), cellAddress(row, column));
}

/** The value of a formula's cell, which is never one of the shared texts. */
function storedValue(cell: string): CellValue {
  const found = /<(?:[\w.-]+:)?v(?:\s[^>]*)?>([^<]*)</.exec(cell);
  if (!found) return null;
  const text = decodeXml(found[1]);
  const [{attributes}] = tags(cell);
  switch (attribute(attributes, 't')) {
    case 'str':
      return text.replace(/_x([0-9a-f]{4})_/gi, (_, code: string) => String.fromCharCode(parseInt(code, 16)));
    case 'b':
      return text === '1';
    case 'e':
      return {code: text};
    default:
      return Number(text);
  }
}
