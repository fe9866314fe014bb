/**
 * The tags of an XML text with their positions, so that a change can replace a few characters and leave all others as
 * they are. Reading the content of a workbook is the work of a library; this is for changing it.
 */
import {strFromU8} from 'fflate';
import {FileProblem} from './problems';

export interface Tag {
  /** Position of "<". */
  readonly start: number;
  /** Position behind ">". */
  readonly end: number;
  /** With its prefix, as written. */
  readonly name: string;
  /** Without prefix. */
  readonly local: string;
  readonly kind: 'open' | 'close' | 'empty';
  /** The attributes as written. */
  readonly attributes: string;
}

const TAG =
  /<(?:!--[^]*?-->|!\[CDATA\[[^]*?\]\]>|\?[^]*?\?>|(\/?)([^\s<>/!?="']+)((?:\s+[^\s<>/="']+\s*=\s*(?:"[^"<]*"|'[^'<]*'))*)\s*(\/?)>)/y;

/**
 * The tags in their order; comments and texts are passed over.
 * @throws FileProblem when the text is not well-formed, or defines entities
 */
export function* tags(xml: string, from = 0): Generator<Tag, void> {
  const pattern = new RegExp(TAG);
  for (let start = xml.indexOf('<', from); start >= 0; start = xml.indexOf('<', pattern.lastIndex)) {
    pattern.lastIndex = start;
    const found = pattern.exec(xml);
    if (!found) throw new FileProblem('is damaged: one of its parts is not well-formed XML');
    const [, closing, name, attributes, empty] = found;
    if (name === undefined) continue;
    yield {
      start,
      end: pattern.lastIndex,
      name,
      local: name.slice(name.indexOf(':') + 1),
      kind: closing ? 'close' : empty ? 'empty' : 'open',
      attributes,
    };
  }
}

const pattern = (name: string): RegExp => new RegExp(`(\\s)${name}\\s*=\\s*(?:"([^"]*)"|'([^']*)')`);
const PATTERNS = new Map<string, RegExp>();

function attributePattern(name: string): RegExp {
  let found = PATTERNS.get(name);
  if (!found) PATTERNS.set(name, (found = pattern(name)));
  return found;
}

/** The value of an attribute, named as written. */
export function attribute(attributes: string, name: string): string | undefined {
  const found = attributePattern(name).exec(attributes);
  return found ? decodeXml(found[2] ?? found[3]) : undefined;
}

/** The value of an attribute that another namespace defines, whatever its prefix. */
export function foreignAttribute(attributes: string, local: string): string | undefined {
  return attribute(attributes, `[^\\s:=]+:${local}`);
}

/** The attributes with one of them set, added at the end when it was not there, or taken away. */
export function withAttribute(attributes: string, name: string, value: string | undefined): string {
  const there = attributePattern(name);
  if (value === undefined) return attributes.replace(there, '');
  const text = `${name}="${encodeXml(value)}"`;
  return there.test(attributes)
    ? attributes.replace(there, (_, space: string) => space + text)
    : `${attributes} ${text}`;
}

const NAMED: Readonly<Record<string, string>> = {lt: '<', gt: '>', amp: '&', quot: '"', apos: "'"};

export const decodeXml = (text: string): string =>
  text.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex?: string, decimal?: string, name?: string) => {
    if (name !== undefined) return NAMED[name] ?? whole;
    const code = hex === undefined ? Number(decimal) : parseInt(hex, 16);
    return code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });

const ENCODED: Readonly<Record<string, string>> = {'<': '&lt;', '>': '&gt;', '&': '&amp;', '"': '&quot;'};

export const encodeXml = (text: string): string => text.replace(/[<>&"]/g, (c) => ENCODED[c]);

/** Text between an open tag and what follows it, CDATA sections resolved. */
export const textContent = (xml: string): string =>
  xml
    .split(/(<!\[CDATA\[[^]*?\]\]>)/)
    .map((piece) =>
      piece.startsWith('<![CDATA[') ? piece.slice(9, -3) : decodeXml(piece.replace(/<!--[^]*?-->/g, '')),
    )
    .join('');

/**
 * Refuses what no workbook has, and what could make reading it unbounded: document types, and encodings in which one
 * would go unnoticed.
 */
export function refuseEntities(content: Uint8Array): void {
  const [first, second] = content;
  const isWide =
    (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff) || first === 0 || second === 0;
  if (isWide) throw new FileProblem('is refused: one of its parts is not written in UTF-8');
  if (/<!(?:DOCTYPE|ENTITY)/i.test(strFromU8(content, true))) {
    throw new FileProblem('is refused: one of its parts declares a document type');
  }
}
