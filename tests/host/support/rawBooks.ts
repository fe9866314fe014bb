/** Workbook files part by part, for what no program that writes workbooks would write. */
import {strToU8, zipSync} from 'fflate';

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const OFFICE = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';
const TYPES = 'application/vnd.openxmlformats-officedocument.spreadsheetml';

export const PLAIN_STYLES = stylesheet('<xf/>');

/** A part with styles, given the formats of cells. */
export function stylesheet(formats: string): string {
  return (
    `<styleSheet xmlns="${MAIN}"><fonts><font/></fonts><fills><fill/></fills><borders><border/></borders>` +
    `<cellXfs>${formats}</cellXfs></styleSheet>`
  );
}

export interface RawBook {
  /** Rows of the only sheet, S. */
  readonly rows?: string;
  /** What stands behind its rows. */
  readonly behind?: string;
  readonly names?: Readonly<Record<string, string>>;
  /** Undefined for a workbook without. */
  readonly styles?: string | undefined;
  /** What stands before the root of the workbook part. */
  readonly prolog?: string;
  readonly sheetTarget?: string;
  /** More parts, or others in place of those above. */
  readonly parts?: Readonly<Record<string, string | Uint8Array>>;
}

export function rawBook(book: RawBook): Uint8Array {
  const {rows = '', behind = '', names = {}, prolog = '', sheetTarget = 'worksheets/sheet1.xml', parts = {}} = book;
  const styles = 'styles' in book ? book.styles : PLAIN_STYLES;
  const defined = Object.entries(names).map(([name, text]) => `<definedName name="${name}">${text}</definedName>`);
  const related = [
    `<Relationship Id="rId1" Type="${OFFICE}/worksheet" Target="${sheetTarget}"/>`,
    ...(styles === undefined ? [] : [`<Relationship Id="rId2" Type="${OFFICE}/styles" Target="styles.xml"/>`]),
  ];
  const content: Record<string, string | Uint8Array> = {
    '[Content_Types].xml':
      `<Types xmlns="${PACKAGE}/content-types"><Default Extension="xml" ContentType="application/xml"/>` +
      `<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
      `<Override PartName="/xl/workbook.xml" ContentType="${TYPES}.sheet.main+xml"/>` +
      `<Override PartName="/xl/worksheets/sheet1.xml" ContentType="${TYPES}.worksheet+xml"/></Types>`,
    '_rels/.rels':
      `<Relationships xmlns="${PACKAGE}/relationships">` +
      `<Relationship Id="rId1" Type="${OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    'xl/workbook.xml':
      `${prolog}<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}"><sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets>` +
      `${defined.length > 0 ? `<definedNames>${defined.join('')}</definedNames>` : ''}</workbook>`,
    'xl/_rels/workbook.xml.rels': `<Relationships xmlns="${PACKAGE}/relationships">${related.join('')}</Relationships>`,
    'xl/worksheets/sheet1.xml': `<worksheet xmlns="${MAIN}"><sheetData>${rows}</sheetData>${behind}</worksheet>`,
    ...(styles === undefined ? {} : {'xl/styles.xml': styles}),
    ...parts,
  };
  const bytes = ([name, part]: [string, string | Uint8Array]) =>
    [name, typeof part === 'string' ? strToU8(part) : part] as const;
  return zipSync(Object.fromEntries(Object.entries(content).map(bytes)), {level: 1});
}

/** Cells of one row, formulas by their address with the value that the file has for them. */
export const formulaRow = (formulas: Readonly<Record<string, string>>, stored = 7): string =>
  `<row r="1">${Object.entries(formulas)
    .map(([address, text]) => `<c r="${address}"><f>${text}</f><v>${stored}</v></c>`)
    .join('')}</row>`;
