/** Finding the parts of a workbook: content types, relationships, sheets. */
import {strFromU8, strToU8} from 'fflate';
import {FileProblem} from './problems';
import {attribute, encodeXml, foreignAttribute, tags} from './xml';
import type {Parts} from './zip';

export interface SheetPart {
  readonly name: string;
  readonly path: string;
}

export interface WorkbookParts {
  readonly path: string;
  readonly relationships: string;
  readonly sheets: readonly SheetPart[];
  readonly metadata: string | undefined;
  readonly calcChain: string | undefined;
}

export interface Relationship {
  readonly id: string;
  /** The last step of its type, such as "worksheet". */
  readonly type: string;
  readonly target: string;
}

const CONTENT_TYPES = '[Content_Types].xml';
const MAIN = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml';

export function textPart(parts: Parts, path: string): string {
  const content = parts.get(path);
  if (!content) throw new FileProblem(`is damaged: its part ${path} is missing`);
  return strFromU8(content).replace(/^\uFEFF/, '');
}

export const setTextPart = (parts: Parts, path: string, text: string): void => {
  parts.set(path, strToU8(text));
};

/** Whether the parts are those of an Office file of whatever program. */
export const isPackage = (parts: Parts): boolean => parts.has(CONTENT_TYPES);

/**
 * The parts of an .xlsx workbook.
 * @throws FileProblem when it is another kind of file
 */
export function workbookParts(parts: Parts): WorkbookParts {
  if (!isPackage(parts)) {
    throw new FileProblem(
      parts.has('mimetype') || parts.has('content.xml')
        ? 'is an OpenDocument file: save it as an Excel workbook (.xlsx) first'
        : 'is a zip archive, but no Excel workbook (.xlsx)',
    );
  }
  const main = relationships(parts, '').find(({type}) => type === 'officeDocument');
  if (!main) throw new FileProblem('is no Excel workbook (.xlsx)');
  checkKind(contentType(parts, main.target));
  const path = main.target;
  const related = relationships(parts, path);
  const target = (wanted: string): string | undefined =>
    related.find(({type, target: to}) => type === wanted && parts.has(to))?.target;
  return {
    path,
    relationships: relationshipsPath(path),
    sheets: sheetParts(parts, path, related),
    metadata: target('sheetMetadata'),
    calcChain: target('calcChain'),
  };
}

function checkKind(type: string | undefined): void {
  if (type === MAIN) return;
  const other = KINDS.find(([pattern]) => pattern.test(type ?? ''));
  throw new FileProblem(other ? other[1] : 'is no Excel workbook (.xlsx)');
}

const KINDS: readonly (readonly [RegExp, string])[] = [
  [/macroEnabled/i, 'is a workbook with macros: save it as a workbook without macros (.xlsx) first'],
  [/sheet\.binary/i, 'is a binary workbook (.xlsb): save it as an Excel workbook (.xlsx) first'],
  [/spreadsheetml\.template/i, 'is a template (.xltx): save it as an Excel workbook (.xlsx) first'],
  [/wordprocessingml/i, 'is a Word document, not an Excel workbook (.xlsx)'],
  [/presentationml/i, 'is a presentation, not an Excel workbook (.xlsx)'],
];

function contentType(parts: Parts, path: string): string | undefined {
  const extension = path.slice(path.lastIndexOf('.') + 1).toLowerCase();
  let byExtension: string | undefined;
  for (const {local, attributes} of tags(textPart(parts, CONTENT_TYPES))) {
    if (local === 'Override' && attribute(attributes, 'PartName')?.toLowerCase() === `/${path.toLowerCase()}`) {
      return attribute(attributes, 'ContentType');
    }
    if (local === 'Default' && attribute(attributes, 'Extension')?.toLowerCase() === extension) {
      byExtension = attribute(attributes, 'ContentType');
    }
  }
  return byExtension;
}

function sheetParts(parts: Parts, workbook: string, related: readonly Relationship[]): SheetPart[] {
  const sheets: SheetPart[] = [];
  for (const {local, kind, attributes} of tags(textPart(parts, workbook))) {
    if (local !== 'sheet' || kind === 'close') continue;
    const id = foreignAttribute(attributes, 'id');
    const relationship = related.find((one) => one.id === id);
    const name = attribute(attributes, 'name');
    if (name === undefined || !relationship) throw new FileProblem('is damaged: a sheet of it cannot be found');
    // Chart sheets and dialogs have no cells.
    if (relationship.type === 'worksheet') sheets.push({name, path: relationship.target});
  }
  if (sheets.length === 0) throw new FileProblem('is a workbook without a worksheet');
  return sheets;
}

const folderOf = (path: string): string => path.slice(0, path.lastIndexOf('/') + 1);

export const relationshipsPath = (path: string): string =>
  `${folderOf(path)}_rels/${path.slice(path.lastIndexOf('/') + 1)}.rels`;

/** The relationships of a part; those of the whole file with an empty path. */
export function relationships(parts: Parts, path: string): Relationship[] {
  const file = relationshipsPath(path);
  if (!parts.has(file)) return [];
  const found: Relationship[] = [];
  for (const {local, kind, attributes} of tags(textPart(parts, file))) {
    if (local !== 'Relationship' || kind === 'close') continue;
    const target = attribute(attributes, 'Target') ?? '';
    found.push({
      id: attribute(attributes, 'Id') ?? '',
      type: (attribute(attributes, 'Type') ?? '').split('/').at(-1)!,
      target: attribute(attributes, 'TargetMode') === 'External' ? target : resolvePath(folderOf(path), target),
    });
  }
  return found;
}

function resolvePath(folder: string, target: string): string {
  const steps = target.startsWith('/') ? [] : folder.split('/').filter(Boolean);
  for (const step of target.split('/')) {
    if (step === '..') steps.pop();
    else if (step !== '' && step !== '.') steps.push(step);
  }
  return steps.join('/');
}

export interface NewPart {
  readonly path: string;
  readonly text: string;
  readonly contentType: string;
  readonly relationshipType: string;
}

/** The way from a folder to a part; some programs know no other. */
function relativePath(folder: string, path: string): string {
  const [from, to] = [folder.split('/').filter(Boolean), path.split('/')];
  let common = 0;
  while (common < from.length && common < to.length - 1 && from[common] === to[common]) common++;
  return [...from.slice(common).map(() => '..'), ...to.slice(common)].join('/');
}

/** Adds a part to the workbook: its content, its content type and the relationship from the workbook. */
export function addPart(parts: Parts, book: WorkbookParts, part: NewPart): string {
  return addRelatedPart(parts, book.path, part);
}

/** Adds a part that another one refers to; the id of the relationship. */
export function addRelatedPart(
  parts: Parts,
  from: string,
  {path, text, contentType: type, relationshipType}: NewPart,
): string {
  setTextPart(parts, path, text);
  insertBeforeEnd(
    parts,
    CONTENT_TYPES,
    'Types',
    (prefix) => `<${prefix}Override PartName="/${path}" ContentType="${type}"/>`,
  );
  const file = relationshipsPath(from);
  if (!parts.has(file)) setTextPart(parts, file, NO_RELATIONSHIPS);
  const taken = new Set(relationships(parts, from).map(({id}) => id));
  let number = taken.size + 1;
  while (taken.has(`rId${number}`)) number++;
  const target = relativePath(folderOf(from), path);
  insertBeforeEnd(
    parts,
    file,
    'Relationships',
    (prefix) => `<${prefix}Relationship Id="rId${number}" Type="${relationshipType}" Target="${encodeXml(target)}"/>`,
  );
  return `rId${number}`;
}

const NO_RELATIONSHIPS =
  '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
  '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"/>';

/** A path that no part has, such as "xl/tables/table3.xml". */
export function freePath(parts: Parts, before: string, behind: string): string {
  const taken = new Set([...parts.keys()].map((name) => name.toLowerCase()));
  let number = 1;
  while (taken.has(`${before}${number}${behind}`.toLowerCase())) number++;
  return `${before}${number}${behind}`;
}

/** Takes a part away, with its content type and the relationship from the workbook. */
export function removePart(parts: Parts, book: WorkbookParts, path: string): void {
  removeRelatedPart(parts, book.path, path);
}

/** Takes a part away, with its content type, its own relationships, and the relationship from another part. */
export function removeRelatedPart(parts: Parts, from: string, path: string): void {
  parts.delete(path);
  parts.delete(relationshipsPath(path));
  removeTags(
    parts,
    CONTENT_TYPES,
    ({local, attributes}) =>
      local === 'Override' && attribute(attributes, 'PartName')?.toLowerCase() === `/${path.toLowerCase()}`,
  );
  const folder = folderOf(from);
  removeTags(
    parts,
    relationshipsPath(from),
    ({local, attributes}) =>
      local === 'Relationship' && resolvePath(folder, attribute(attributes, 'Target') ?? '') === path,
  );
}

/** Takes away all relationships of a part but those of some types. */
export function keepRelationships(parts: Parts, path: string, types: readonly string[]): void {
  const file = relationshipsPath(path);
  if (!parts.has(file)) return;
  removeTags(
    parts,
    file,
    ({local, attributes}) =>
      local === 'Relationship' && !types.includes((attribute(attributes, 'Type') ?? '').split('/').at(-1)!),
  );
}

/** Puts something into a part, before its root ends. */
export function insertBeforeEnd(parts: Parts, path: string, root: string, made: (prefix: string) => string): void {
  const xml = textPart(parts, path);
  for (const {local, kind, start, end, name, attributes} of tags(xml)) {
    if (local !== root) continue;
    const prefix = name.slice(0, name.length - local.length);
    if (kind === 'close') return setTextPart(parts, path, xml.slice(0, start) + made(prefix) + xml.slice(start));
    if (kind === 'empty') {
      const opened = `<${name}${attributes}>${made(prefix)}</${name}>`;
      return setTextPart(parts, path, xml.slice(0, start) + opened + xml.slice(end));
    }
  }
  throw new FileProblem(`is damaged: its part ${path} has no end`);
}

function removeTags(parts: Parts, path: string, wanted: (tag: {local: string; attributes: string}) => boolean): void {
  const xml = textPart(parts, path);
  let kept = '';
  let from = 0;
  let closing = false;
  for (const tag of tags(xml)) {
    if (closing) {
      from = tag.end;
      closing = false;
    } else if (tag.kind !== 'close' && wanted(tag)) {
      kept += xml.slice(from, tag.start);
      from = tag.end;
      closing = tag.kind === 'open';
    }
  }
  setTextPart(parts, path, kept + xml.slice(from));
}
