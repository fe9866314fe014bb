/** The styles of a workbook file: looks of cells are added to them, none that is there is changed. */
import {DOMParser, XMLSerializer, type Document, type Element} from '@xmldom/xmldom';
import type {Border, CellLook, Side} from './looks';

const NAMESPACE = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
/** Number formats with fixed numbers; those of a workbook's own begin at 164. */
const BUILT_IN = new Map([
  ['General', 0],
  ['0', 1],
  ['0.00', 2],
  ['#,##0', 3],
  ['#,##0.00', 4],
  ['0%', 9],
  ['0.00%', 10],
  ['@', 49],
]);
const FIRST_OWN_FORMAT = 164;
const SIDES: readonly Side[] = ['left', 'right', 'top', 'bottom'];

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

export class StyleSheet {
  readonly #document: Document;
  readonly #known = new Map<string, number>();
  #changed = false;

  constructor(xml: string) {
    this.#document = new DOMParser().parseFromString(xml, 'text/xml');
  }

  get isChanged(): boolean {
    return this.#changed;
  }

  text(): string {
    return new XMLSerializer().serializeToString(this.#document);
  }

  /**
   * The number of a style with a look. What the look has in common with that of another style is taken from there, with
   * everything that the host does not know of, such as protection.
   */
  styleFor(look: CellLook, base = 0, baseLook: CellLook = {}): number {
    const key = `${base} ${JSON.stringify(look)}`;
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const styles = this.#list('cellXfs', 'numFmts fonts fills borders cellStyleXfs');
    const made = (children(styles)[base] ?? children(styles)[0])?.cloneNode(true) as Element | undefined;
    const style = made ?? this.#element('xf', {numFmtId: 0, fontId: 0, fillId: 0, borderId: 0, xfId: 0});
    const set = (id: string, apply: string, value: number): void => {
      style.setAttribute(id, String(value));
      style.setAttribute(apply, '1');
    };
    if (look.numberFormat !== baseLook.numberFormat) {
      set('numFmtId', 'applyNumberFormat', this.#numberFormat(look.numberFormat ?? 'General'));
    }
    if (!same(fontOf(look), fontOf(baseLook))) {
      set('fontId', 'applyFont', this.#font(look, Number(style.getAttribute('fontId') ?? 0)));
    }
    if (look.fill !== baseLook.fill) set('fillId', 'applyFill', look.fill === undefined ? 0 : this.#fill(look.fill));
    if (!same(look.borders ?? {}, baseLook.borders ?? {})) {
      set('borderId', 'applyBorder', this.#border(look.borders ?? {}));
    }
    this.#align(style, look, baseLook);
    const number = this.#add(styles, style);
    this.#known.set(key, number);
    return number;
  }

  #align(style: Element, look: CellLook, before: CellLook): void {
    const {horizontal, vertical, wrap} = look;
    if (horizontal === before.horizontal && vertical === before.vertical && wrap === before.wrap) return;
    let alignment = children(style).find(({localName}) => localName === 'alignment');
    if (!alignment) {
      alignment = this.#element('alignment');
      style.insertBefore(alignment, style.firstChild);
    }
    const given = {horizontal, vertical, wrapText: wrap ? '1' : undefined};
    for (const [name, value] of Object.entries(given)) {
      if (value === undefined) alignment.removeAttribute(name);
      else alignment.setAttribute(name, value);
    }
    style.setAttribute('applyAlignment', '1');
  }

  #numberFormat(code: string): number {
    const builtIn = BUILT_IN.get(code);
    if (builtIn !== undefined) return builtIn;
    const formats = this.#list('numFmts', '');
    const there = children(formats).find((format) => format.getAttribute('formatCode') === code);
    if (there) return Number(there.getAttribute('numFmtId'));
    const numbers = children(formats).map((format) => Number(format.getAttribute('numFmtId')));
    const numFmtId = Math.max(FIRST_OWN_FORMAT - 1, ...numbers) + 1;
    this.#add(formats, this.#element('numFmt', {numFmtId, formatCode: code}));
    return numFmtId;
  }

  /** What the look leaves open is as in the font before. */
  #font({bold, italic, strikethrough, underline, size, color, font}: CellLook, before: number): number {
    const fonts = this.#list('fonts', 'numFmts');
    const former = children(fonts)[before] ?? children(fonts)[0];
    const kept = (name: string): Element[] =>
      former
        ? children(former)
            .filter(({localName}) => localName === name)
            .map((one) => one.cloneNode(true) as Element)
        : [];
    const made = this.#element('font');
    const parts = [
      ...(bold ? [this.#element('b')] : []),
      ...(italic ? [this.#element('i')] : []),
      ...(strikethrough ? [this.#element('strike')] : []),
      ...(underline ? [this.#element('u')] : []),
      ...(size === undefined ? kept('sz') : [this.#element('sz', {val: size})]),
      ...(color === undefined ? [] : [this.#element('color', {rgb: argb(color)})]),
      ...(font === undefined
        ? [...kept('name'), ...kept('family'), ...kept('scheme')]
        : [this.#element('name', {val: font})]),
    ];
    parts.forEach((part) => made.appendChild(part));
    return this.#add(fonts, made);
  }

  #fill(color: string): number {
    const fill = this.#element('fill');
    const pattern = this.#element('patternFill', {patternType: 'solid'});
    pattern.appendChild(this.#element('fgColor', {rgb: argb(color)}));
    fill.appendChild(pattern);
    return this.#add(this.#list('fills', 'numFmts fonts'), fill);
  }

  #border(borders: Readonly<Partial<Record<Side, Border>>>): number {
    const border = this.#element('border');
    for (const side of SIDES) {
      const line = borders[side];
      const made = this.#element(side, line ? {style: line.style} : {});
      if (line) made.appendChild(this.#element('color', {rgb: argb(line.color)}));
      border.appendChild(made);
    }
    border.appendChild(this.#element('diagonal'));
    return this.#add(this.#list('borders', 'numFmts fonts fills'), border);
  }

  /** Adds to a list unless it is there; its number. */
  #add(list: Element, made: Element): number {
    const text = new XMLSerializer().serializeToString(made);
    const all = children(list);
    const there = all.findIndex((one) => new XMLSerializer().serializeToString(one) === text);
    if (there >= 0) return there;
    this.#changed = true;
    list.appendChild(made);
    list.setAttribute('count', String(all.length + 1));
    return all.length;
  }

  /** A list of the style sheet, made behind others when it is missing. */
  #list(name: string, behind: string): Element {
    const root = this.#document.documentElement!;
    const there = children(root).find(({localName}) => localName === name);
    if (there) return there;
    const list = this.#element(name, {count: 0});
    const before = behind.split(' ');
    root.insertBefore(list, children(root).find(({localName}) => !before.includes(localName ?? '')) ?? null);
    return list;
  }

  #element(name: string, attributes: Readonly<Record<string, string | number>> = {}): Element {
    const prefix = this.#document.documentElement!.prefix;
    const made = this.#document.createElementNS(NAMESPACE, prefix ? `${prefix}:${name}` : name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
    return made;
  }
}

const children = (element: Element): Element[] =>
  Array.from(element.childNodes).filter((node): node is Element => node.nodeType === 1);

const argb = (color: string): string => `FF${color.slice(1).toUpperCase()}`;

const fontOf = ({
  bold = false,
  italic = false,
  strikethrough = false,
  underline = false,
  size,
  color,
  font,
}: CellLook) => [bold, italic, strikethrough, underline, size ?? null, color ?? null, font ?? null];
