/** The laid-out demo as a file that Excel would have written: formulas in its words, those over ranges as dynamic arrays. */
import {NAMESPACE} from '../../functions/catalogue';
import {markDynamicArrays} from '../../host/files/dynamicArrays';
import {encodeXml} from '../../host/files/xml';
import {storedFormula} from '../../host/formulas/stored';
import {packZip, unpackZip} from '../../host/files/zip';
import {textPart, setTextPart} from '../../host/files/parts';
import type {DemoBook} from './book';
import {COLUMNS} from './columns';

/** A formula in the words of the file format. The demo's formulas name their tables, so no place is needed. */
const stored = (text: string): string =>
  storedFormula(text, {namespace: NAMESPACE, at: {sheet: '', row: 0, column: 0}, tables: []});

export async function asFile({book, arrays}: DemoBook): Promise<Uint8Array> {
  book.eachSheet((sheet) =>
    sheet.eachRow((row) =>
      row.eachCell((cell) => {
        const {value} = cell;
        if (value !== null && typeof value === 'object' && 'formula' in value) {
          cell.value = {...value, formula: stored(value.formula)};
        }
      }),
    ),
  );
  const plain = new Uint8Array(await book.xlsx.writeBuffer());
  return withColumnFormulas(markDynamicArrays(plain, arrays));
}

/** The formulas of the table's columns, which exceljs leaves out: with them a new row gets its formulas. */
function withColumnFormulas(bytes: Uint8Array): Uint8Array {
  const parts = unpackZip(bytes);
  const path = [...parts.keys()].find(
    (name) => name.startsWith('xl/tables/') && textPart(parts, name).includes('name="Wheels"'),
  )!;
  let xml = textPart(parts, path);
  for (const {name, formula, overRange} of COLUMNS) {
    if (formula === undefined) continue;
    const attribute = overRange ? ' array="1"' : '';
    const element = `<calculatedColumnFormula${attribute}>${encodeXml(stored(formula))}</calculatedColumnFormula>`;
    const column = new RegExp(`(<tableColumn [^>]*name="${encodeXml(name)}"[^>]*)/>`);
    if (!column.test(xml)) throw new Error(`the table has no column ${name}`);
    xml = xml.replace(column, (_, open: string) => `${open}>${element}</tableColumn>`);
  }
  setTextPart(parts, path, xml);
  return packZip(parts);
}
