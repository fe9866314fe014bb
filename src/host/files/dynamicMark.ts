/**
 * How a file tells array formulas that spill from those of fixed size: the cell's `cm` is the number of an entry of the
 * workbook's metadata, whose type is XLDAPR.
 */
import {addPart, setTextPart, textPart, type WorkbookParts} from './parts';
import {attribute, tags, withAttribute, type Tag} from './xml';
import type {Parts} from './zip';

const TYPE = 'XLDAPR';

interface Entry {
  /** Number of its type, from 1. */
  readonly type: number;
  /** Number within the type, from 0. */
  readonly value: number;
}

interface Metadata {
  readonly types: readonly string[];
  /** Entries that `cm` counts from 1. */
  readonly cells: readonly Entry[];
  /** Entries of XLDAPR, and whether they spill. */
  readonly arrays: readonly boolean[];
}

function readMetadata(xml: string): Metadata {
  const types: string[] = [];
  const cells: Entry[] = [];
  const arrays: boolean[] = [];
  const open: string[] = [];
  let ofArrays = false;
  for (const tag of tags(xml)) {
    const {local, kind, attributes} = tag;
    if (kind === 'close') {
      open.pop();
      continue;
    }
    if (local === 'metadataType') types.push(attribute(attributes, 'name') ?? '');
    if (local === 'futureMetadata') ofArrays = attribute(attributes, 'name') === TYPE;
    if (local === 'bk' && open.at(-1) === 'futureMetadata' && ofArrays) arrays.push(false);
    if (local === 'dynamicArrayProperties' && attribute(attributes, 'fDynamic') === '1')
      arrays[arrays.length - 1] = true;
    if (local === 'rc' && open.includes('cellMetadata')) {
      cells.push({type: Number(attribute(attributes, 't')), value: Number(attribute(attributes, 'v'))});
    }
    if (kind === 'open') open.push(local);
  }
  return {types, cells, arrays};
}

const isDynamic = ({types, arrays}: Metadata, {type, value}: Entry): boolean =>
  types[type - 1] === TYPE && arrays[value] === true;

/** Tells by a cell's `cm` whether its array formula spills. */
export function dynamicMarks(parts: Parts, book: WorkbookParts): (cm: string | undefined) => boolean {
  const metadata = book.metadata === undefined ? undefined : readMetadata(textPart(parts, book.metadata));
  return (cm) => {
    const entry = metadata?.cells[Number(cm) - 1];
    return cm !== undefined && metadata !== undefined && entry !== undefined && isDynamic(metadata, entry);
  };
}

/** The number that `cm` needs to have in this workbook; adds the entry to its metadata when there is none. */
export function dynamicMark(parts: Parts, book: WorkbookParts): number {
  if (book.metadata === undefined) {
    addPart(parts, book, {
      path: `${book.path.slice(0, book.path.lastIndexOf('/') + 1)}metadata.xml`,
      text: NEW_METADATA,
      contentType: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheetMetadata+xml',
      relationshipType: 'http://schemas.openxmlformats.org/officeDocument/2006/relationships/sheetMetadata',
    });
    return 1;
  }
  let xml = textPart(parts, book.metadata);
  const metadata = readMetadata(xml);
  const there = metadata.cells.findIndex((entry) => isDynamic(metadata, entry));
  if (there >= 0) return there + 1;
  let type = metadata.types.indexOf(TYPE) + 1;
  if (type === 0) {
    xml = inserted(xml, 'metadataTypes', METADATA_TYPE, ['metadataStrings']);
    type = metadata.types.length + 1;
  }
  const array = metadata.arrays.indexOf(true);
  if (array < 0) xml = withArrayEntry(xml);
  const value = array < 0 ? metadata.arrays.length : array;
  xml = inserted(xml, 'cellMetadata', `<bk><rc t="${type}" v="${value}"/></bk>`, [
    'metadataTypes',
    'metadataStrings',
    'mdxMetadata',
    'futureMetadata',
  ]);
  setTextPart(parts, book.metadata, xml);
  return metadata.cells.length + 1;
}

const ARRAY_ENTRY =
  '<bk><extLst><ext uri="{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}">' +
  '<xda:dynamicArrayProperties xmlns:xda="http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray" fDynamic="1" fCollapsed="0"/>' +
  '</ext></extLst></bk>';

const METADATA_TYPE =
  `<metadataType name="${TYPE}" minSupportedVersion="120000" copy="1" pasteAll="1" pasteValues="1" merge="1" splitFirst="1" ` +
  'rowColShift="1" clearFormats="1" clearComments="1" assign="1" coerce="1" cellMeta="1"/>';

const NEW_METADATA =
  '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
  '<metadata xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">' +
  `<metadataTypes count="1">${METADATA_TYPE}</metadataTypes>` +
  `<futureMetadata name="${TYPE}" count="1">${ARRAY_ENTRY}</futureMetadata>` +
  '<cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>';

/** An entry more in futureMetadata of XLDAPR, which comes behind the types when there is none. */
function withArrayEntry(xml: string): string {
  const opened = [...tags(xml)].find(
    ({local, kind, attributes}) =>
      local === 'futureMetadata' && kind === 'open' && attribute(attributes, 'name') === TYPE,
  );
  if (!opened) {
    const list = `<futureMetadata name="${TYPE}" count="1">${ARRAY_ENTRY}</futureMetadata>`;
    return insertedBehind(xml, ['metadataTypes', 'metadataStrings', 'mdxMetadata', 'futureMetadata'], list);
  }
  const end = [...tags(xml, opened.end)].find(({local, kind}) => local === 'futureMetadata' && kind === 'close')!;
  return counted(xml.slice(0, end.start) + ARRAY_ENTRY + xml.slice(end.start), opened);
}

/** An entry more at the end of a list, which is made behind the last of these elements when it is not there. */
function inserted(xml: string, list: string, entry: string, behind: readonly string[]): string {
  const all = [...tags(xml)];
  const opened = all.find(({local, kind}) => local === list && kind === 'open');
  const end = all.find(({local, kind}) => local === list && kind === 'close');
  if (!opened || !end) return insertedBehind(xml, behind, `<${list} count="1">${entry}</${list}>`);
  return counted(xml.slice(0, end.start) + entry + xml.slice(end.start), opened);
}

function insertedBehind(xml: string, behind: readonly string[], text: string): string {
  const all = [...tags(xml)];
  const last = all.filter(({local, kind}) => behind.includes(local) && kind !== 'open').at(-1);
  const at = last?.end ?? all.find(({local}) => local === 'metadata')!.end;
  return xml.slice(0, at) + text + xml.slice(at);
}

/** The list's count one higher. */
function counted(xml: string, {start, end, name, attributes}: Tag): string {
  const count = Number(attribute(attributes, 'count') ?? 0) + 1;
  return `${xml.slice(0, start)}<${name}${withAttribute(attributes, 'count', String(count))}>${xml.slice(end)}`;
}
