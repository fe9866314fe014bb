/** One cell of a sheet's XML: changed in its value or formula, with everything else as it was. */
import {isError, type CellValue} from '../book/cells';
import {attribute, encodeXml, tags, textContent, withAttribute, type Tag} from './xml';

/** A formula to be stored. */
export interface StoredFormula {
  /** Without "=", with the prefixes of the file format. */
  readonly text: string;
  /** With these, an array formula that spills: its cells and the number of its kind in the workbook's metadata. */
  readonly dynamic?: {readonly ref: string; readonly metadata: number};
}

export interface CellChange {
  readonly value: CellValue;
  /** The value comes from a formula, this cell's or that of a cell whose array it shows. */
  readonly calculated: boolean;
  /** A new formula, or null for none; undefined leaves the one that is there. */
  readonly formula?: StoredFormula | null | undefined;
  /** The cells of the array formula that is there. */
  readonly ref?: string | undefined;
  /** The number of another style. */
  readonly style?: number | undefined;
  /** What the cell holds stays as it is. */
  readonly keepsContent?: boolean | undefined;
}

export interface FormulaXml {
  /** array, shared, dataTable; undefined for an ordinary formula. */
  readonly type: string | undefined;
  readonly text: string;
  readonly ref: string | undefined;
  readonly shared: string | undefined;
}

interface Child {
  readonly local: string;
  readonly xml: string;
  readonly tag: Tag;
}

/** The elements directly within a cell. */
function children(xml: string): Child[] {
  const found: Child[] = [];
  let depth = 0;
  let opened: Tag | undefined;
  for (const tag of tags(xml)) {
    if (tag.kind === 'close') depth--;
    if (depth === 1 && tag.kind !== 'close') opened = tag;
    if (depth === 1 && tag.kind !== 'open' && opened) {
      found.push({local: opened.local, xml: xml.slice(opened.start, tag.end), tag: opened});
      opened = undefined;
    }
    if (tag.kind === 'open') depth++;
  }
  return found;
}

/** The formula of a cell's XML. */
export function formulaOf(xml: string): FormulaXml | undefined {
  const child = children(xml).find(({local}) => local === 'f');
  if (!child) return undefined;
  const {attributes, start, end, kind} = child.tag;
  return {
    type: attribute(attributes, 't'),
    text: kind === 'empty' ? '' : textContent(child.xml.slice(end - start, child.xml.lastIndexOf('<'))),
    ref: attribute(attributes, 'ref'),
    shared: attribute(attributes, 'si'),
  };
}

/** The cell's XML with the change made. */
export function changedCell(xml: string, change: CellChange): string {
  const [tag] = tags(xml);
  const {style} = change;
  const cell = style === undefined ? tag : {...tag, attributes: withAttribute(tag.attributes, 's', String(style))};
  if (change.keepsContent) {
    return `<${cell.name}${cell.attributes}${tag.kind === 'empty' ? '/' : ''}>${xml.slice(tag.end - tag.start)}`;
  }
  const prefix = cell.name.slice(0, cell.name.length - cell.local.length);
  const inside = children(xml);
  const formula = changedFormula(
    inside.find(({local}) => local === 'f'),
    prefix,
    change,
  );
  const {type, content} = valueXml(change.value, prefix, change.calculated || formula !== '');
  // Value metadata (vm) belong to the former value.
  let attributes = withAttribute(withAttribute(cell.attributes, 'vm', undefined), 't', type);
  if (change.formula !== undefined) {
    const metadata = change.formula?.dynamic?.metadata;
    attributes = withAttribute(attributes, 'cm', metadata === undefined ? undefined : String(metadata));
  }
  const rest = inside.filter(({local}) => !['f', 'v', 'is'].includes(local)).map((child) => child.xml);
  const filling = formula + content + rest.join('');
  return filling === '' ? `<${cell.name}${attributes}/>` : `<${cell.name}${attributes}>${filling}</${cell.name}>`;
}

/** A cell that was not there. */
export function newCell(prefix: string, address: string, style: string | undefined, change: CellChange): string {
  const name = `${prefix}c`;
  return changedCell(`<${name} r="${address}"${style === undefined ? '' : ` s="${style}"`}/>`, change);
}

function changedFormula(there: Child | undefined, prefix: string, {formula, ref}: CellChange): string {
  if (formula === null) return '';
  if (formula) {
    const array = formula.dynamic ? ` t="array" ref="${formula.dynamic.ref}"` : '';
    return `<${prefix}f${array}>${encodeXml(formula.text)}</${prefix}f>`;
  }
  if (!there) return '';
  if (ref === undefined) return there.xml;
  const {name, attributes, kind} = there.tag;
  const opening = `<${name}${withAttribute(attributes, 'ref', ref)}${kind === 'empty' ? '/' : ''}>`;
  return opening + there.xml.slice(there.tag.end - there.tag.start);
}

/** The error as a file holds it: newer ones are stored as #VALUE!, which every version of Excel reads. */
export const storedError = (code: string): string => (CLASSIC.has(code) ? code : '#VALUE!');

const CLASSIC = new Set(['#DIV/0!', '#N/A', '#NAME?', '#NULL!', '#NUM!', '#REF!', '#VALUE!']);

function valueXml(value: CellValue, prefix: string, calculated: boolean): {type: string | undefined; content: string} {
  const v = (text: string): string => `<${prefix}v${spaces(text)}>${text}</${prefix}v>`;
  if (value === null) return {type: undefined, content: ''};
  if (typeof value === 'number') return {type: undefined, content: v(String(value === 0 ? 0 : value))};
  if (typeof value === 'boolean') return {type: 'b', content: v(value ? '1' : '0')};
  if (isError(value)) return {type: 'e', content: v(storedError(value.code))};
  const text = encodeText(value);
  if (calculated) return {type: 'str', content: v(text)};
  const t = `<${prefix}t${spaces(text)}>${text}</${prefix}t>`;
  return {type: 'inlineStr', content: `<${prefix}is>${t}</${prefix}is>`};
}

const spaces = (text: string): string => (text !== text.trim() ? ' xml:space="preserve"' : '');

/** Characters that XML cannot hold are written as _x000D_, and what looks like that is kept apart from it. */
const encodeText = (text: string): string =>
  encodeXml(
    text
      .replace(/_(?=x[0-9a-f]{4}_)/gi, '_x005F_')
      .replace(
        /[\u0000-\u0008\u000b-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g,
        hex,
      ),
  );

const hex = (c: string): string => `_x${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}_`;
