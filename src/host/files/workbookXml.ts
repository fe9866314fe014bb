/** The workbook's own part: its sheets and names. */
import {DOMParser, XMLSerializer, type Document, type Element} from '@xmldom/xmldom';

const NAMESPACE = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';

export interface NameToSave {
  readonly name: string;
  /** The name of the sheet to which it is limited. */
  readonly sheet: string | undefined;
  /** In the words of the file format, without "=". */
  readonly formula: string;
}

const children = (element: Element): Element[] =>
  Array.from(element.childNodes).filter((node): node is Element => node.nodeType === 1);

const key = (name: string, sheet: string | undefined): string => `${sheet ?? ''}!${name}`.toLowerCase();

export class WorkbookXml {
  readonly #document: Document;

  constructor(xml: string) {
    this.#document = new DOMParser().parseFromString(xml, 'text/xml');
  }

  text(): string {
    return new XMLSerializer().serializeToString(this.#document);
  }

  get #root(): Element {
    return this.#document.documentElement!;
  }

  #child(name: string): Element | undefined {
    return children(this.#root).find(({localName}) => localName === name);
  }

  /** Chart sheets are among them. */
  get #sheets(): Element[] {
    return children(this.#child('sheets')!);
  }

  #sheet(name: string): Element | undefined {
    return this.#sheets.find((sheet) => sheet.getAttribute('name') === name);
  }

  #element(name: string): Element {
    const {prefix} = this.#root;
    return this.#document.createElementNS(NAMESPACE, prefix ? `${prefix}:${name}` : name);
  }

  addSheet(name: string, relationship: string): void {
    const sheet = this.#element('sheet');
    const ids = this.#sheets.map((one) => Number(one.getAttribute('sheetId')));
    sheet.setAttribute('name', name);
    sheet.setAttribute('sheetId', String(Math.max(0, ...ids) + 1));
    sheet.setAttributeNS(RELATIONS, 'r:id', relationship);
    this.#child('sheets')!.appendChild(sheet);
  }

  renameSheet(before: string, after: string): void {
    this.#sheet(before)?.setAttribute('name', after);
  }

  setState(name: string, visibility: string): void {
    const states: Readonly<Record<string, string>> = {Hidden: 'hidden', VeryHidden: 'veryHidden'};
    const state = states[visibility];
    if (state === undefined) this.#sheet(name)?.removeAttribute('state');
    else this.#sheet(name)?.setAttribute('state', state);
  }

  /** Takes sheets away, and the others into an order; what counts sheets by their place follows. */
  arrange(removed: ReadonlySet<string>, order: readonly string[]): void {
    const before = this.#sheets;
    const list = this.#child('sheets')!;
    const nameOf = (sheet: Element): string => sheet.getAttribute('name') ?? '';
    const ordered = [...order].flatMap((name) => this.#sheet(name) ?? []);
    let next = 0;
    // Chart sheets stay in their places among the others.
    const kept = before.filter((sheet) => !removed.has(nameOf(sheet)));
    const after = kept.map((sheet) => (order.includes(nameOf(sheet)) ? ordered[next++] : sheet));
    for (const sheet of before) list.removeChild(sheet);
    for (const sheet of after) list.appendChild(sheet);
    for (const name of this.#names()) {
      const scope = name.getAttribute('localSheetId');
      if (scope === null || scope === '') continue;
      const now = after.indexOf(before[Number(scope)]);
      if (now < 0) name.parentNode!.removeChild(name);
      else name.setAttribute('localSheetId', String(now));
    }
    for (const view of children(this.#child('bookViews') ?? this.#element('bookViews'))) {
      const active = after.indexOf(before[Number(view.getAttribute('activeTab') ?? 0)]);
      view.setAttribute('activeTab', String(Math.max(0, active)));
      view.removeAttribute('firstSheet');
    }
  }

  #names(): Element[] {
    const list = this.#child('definedNames');
    return list ? children(list) : [];
  }

  /** Names that are there with the same meaning stay as they are, with all that the host does not know of them. */
  setNames(names: readonly NameToSave[]): void {
    const wanted = new Map(names.map((name) => [key(name.name, name.sheet), name]));
    const sheets = this.#sheets.map((sheet) => sheet.getAttribute('name') ?? '');
    for (const element of this.#names()) {
      const scope = element.getAttribute('localSheetId');
      const sheet = scope === null || scope === '' ? undefined : sheets[Number(scope)];
      const found = wanted.get(key(element.getAttribute('name') ?? '', sheet));
      if (!found) element.parentNode!.removeChild(element);
      else {
        if (element.textContent !== found.formula) element.textContent = found.formula;
        wanted.delete(key(found.name, sheet));
      }
    }
    for (const {name, sheet, formula} of wanted.values()) {
      const made = this.#element('definedName');
      made.setAttribute('name', name);
      if (sheet !== undefined) made.setAttribute('localSheetId', String(sheets.indexOf(sheet)));
      made.textContent = formula;
      this.#nameList().appendChild(made);
    }
    const list = this.#child('definedNames');
    if (list && children(list).length === 0) this.#root.removeChild(list);
  }

  #nameList(): Element {
    const there = this.#child('definedNames');
    if (there) return there;
    const list = this.#element('definedNames');
    const behind = ['sheets', 'functionGroups', 'externalReferences'];
    const last = children(this.#root)
      .filter(({localName}) => behind.includes(localName ?? ''))
      .at(-1)!;
    this.#root.insertBefore(list, last.nextSibling);
    return list;
  }
}
