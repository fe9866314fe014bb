/** @jest-environment ./tests/host/support/environment.cjs */
import {strFromU8} from 'fflate';
import {recompute, type Recomputed} from '../../src/host/book/recompute';
import {readWorkbook} from '../../src/host/files/read';
import {cellsOf} from '../../src/host/files/sheetXml';
import {unpackZip} from '../../src/host/files/zip';
import {RICH_PARTS, richWorkbook, SETS, SHEET, SHEET_PART, SUMMARY_PART} from '../files/richWorkbook';
import {nodeEngine, openWorkbook} from './support/books';

const input = richWorkbook();
const before = Buffer.from(input).toString('base64');
let result: Recomputed;
let xml: string;

beforeAll(async () => {
  result = await recompute(input, await readWorkbook(input), nodeEngine());
  xml = strFromU8(unpackZip(result.bytes).get(SHEET_PART)!);
});

/** Turn of the tire so that its high point comes opposite to the rim's. */
const turnOf = ([, rimAngle, , tireAngle]: readonly (number | string)[]): number =>
  (((180 + Number(rimAngle) - Number(tireAngle)) % 360) + 360) % 360;

const cells = (text: string): Map<string, string> =>
  new Map([...cellsOf(text)].map(({row, column, tag, end}) => [`${row},${column}`, text.slice(tag.start, end)]));

const valueOf = (address: string): string | undefined =>
  new RegExp(`<c r="${address}"[^>]*>(?:<f[^>]*>[^<]*</f>|<f[^>]*/>)?<v[^>]*>([^<]*)</v>`).exec(xml)?.[1];

describe('a workbook of another program, recalculated', () => {
  test('the input is untouched, and every part but the sheets concerned is the same to the byte', () => {
    expect(Buffer.from(input).toString('base64')).toBe(before);
    const parts = unpackZip(result.bytes);
    const old = unpackZip(input);
    expect([...parts.keys()]).toEqual([...old.keys()]);
    const different = [...old].filter(([name, content]) => !Buffer.from(parts.get(name)!).equals(Buffer.from(content)));
    expect(different.map(([name]) => name).sort()).toEqual([SHEET_PART, SUMMARY_PART].sort());
  });

  test('within the sheet, everything but the cells that changed is the same to the character', () => {
    const original = RICH_PARTS[SHEET_PART] as string;
    const [old, now] = [cells(original), cells(xml)];
    const changed = [...now].filter(([at, cell]) => old.get(at) !== cell).map(([at]) => at);
    const name = (at: string): string => {
      const [row, column] = at.split(',').map(Number);
      return `${String.fromCharCode(65 + column)}${row + 1}`;
    };
    expect(changed.map(name).sort()).toEqual(
      'F6 F7 F8 F9 G6 G7 G8 G9 J5 K5 L5 M5 J7 K7 L7 M7 N7 J9 K9 M9 B13 C13 B14 B17 B18 C19 B20 C20'.split(' ').sort(),
    );
    // The text around the cells, put together without them. M5 is new.
    const around = (text: string): string => {
      let left = '';
      let from = 0;
      for (const {tag, end, row, column} of cellsOf(text)) {
        left += text.slice(from, tag.start) + (row === 4 && column === 12 ? '' : '<c/>');
        from = end;
      }
      return left + text.slice(from);
    };
    expect(around(xml)).toBe(around(original));
  });

  test('formulas are never altered, but for the cells that an array fills', () => {
    const formulas = (text: string): string[] => text.match(/<f[ >/].*?(?:<\/f>|\/>)/g)!;
    const without = (list: string[]): string[] => list.map((formula) => formula.replace(/ ref="[^"]*"/, ''));
    expect(without(formulas(xml))).toEqual(without(formulas(RICH_PARTS[SHEET_PART] as string)));
    expect(xml).toContain('<c r="J5" cm="1"><f t="array" ref="J5:M5">');
    expect(xml).toContain('<c r="J7" cm="1"><f t="array" ref="J7:M7">');
    expect(xml).toContain('<f t="array" ref="B12:D12">');
  });

  test('the values are right', () => {
    expect([5, 6, 7, 9].map((row) => Number(valueOf(`F${row}`)))).toEqual([0, 1, 2, 4].map((i) => turnOf(SETS[i])));
    expect(valueOf('F8')).toBe('#VALUE!');
    expect(Number(valueOf('G6'))).toBe(turnOf(SETS[1]) / 360);
    expect(Number(valueOf('K5'))).toBe(0.8 - 0.6);
    expect(Number(valueOf('B13'))).toBe(turnOf(SETS[0]) + turnOf(SETS[1]) + turnOf(SETS[2]));
    expect(valueOf('B17')).toBe('120.0 &lt;°&gt; ');
    expect(valueOf('B18')).toBe('1');
    expect(Number(valueOf('C20'))).toBeCloseTo(Number(valueOf('M5')) * 2, 12);
  });

  test('an array that became larger, one that became smaller, one that is blocked', () => {
    // A new cell takes the style of its column, a cell that was there keeps its own.
    expect(xml).toMatch(/<c r="L5" s="3"><v>[\d.]+<\/v><\/c><c r="M5" s="3"><v>[\d.]+<\/v><\/c><\/row>/);
    expect(xml).toContain('<c r="N7" s="3"/>');
    expect(xml).toContain(
      '<c r="J9" cm="1" t="e"><f t="array" ref="J9">_xldudf_WHEEL_MATCH(B9:C9,D9:E9)</f><v>#VALUE!</v></c>',
    );
    expect(xml).toContain('<c r="K9"/><c r="L9" t="s"><v>9</v></c><c r="M9"/>');
  });

  test('native formulas that do not depend on ours keep what they showed, and so does what cannot be calculated', () => {
    expect(['B12', 'C12', 'D12', 'B16', 'B15'].map(valueOf)).toEqual(['998', '997', '996', '999', '42.5']);
    expect(strFromU8(unpackZip(result.bytes).get(SUMMARY_PART)!)).toContain('<x:v>77</x:v>');
  });

  test('the report', () => {
    expect(result).toMatchObject({ours: 9, changed: 29});
    expect(result.errors.map(({address, code}) => `${address} ${code}`)).toEqual([
      `'${SHEET}'!F8 #VALUE!`,
      `'${SHEET}'!G8 #VALUE!`,
      `'${SHEET}'!J9 #SPILL!`,
      `'${SHEET}'!B14 #VALUE!`,
    ]);
    expect(result.errors[0].message).toMatch(/^rim \(row 1, column 1\): .*found the text "n\/a"$/);
    expect(result.kept).toEqual([{address: `'${SHEET}'!B15`, reason: 'there is no function GETPIVOTDATA here'}]);
  });

  test('a second time there is nothing to change, and the file stays the same', async () => {
    const again = await recompute(result.bytes, await readWorkbook(result.bytes), nodeEngine());
    expect(again.changed).toBe(0);
    expect(Buffer.from(again.bytes).equals(Buffer.from(result.bytes))).toBe(true);
  });

  test('what is written is what the host shows', async () => {
    const workbook = await openWorkbook(result.bytes);
    for (const {row, column, value, formula} of (await readWorkbook(result.bytes)).sheets[0].cells) {
      if (!formula || ['11,1', '15,1', '8,9', '14,1'].includes(`${row},${column}`)) continue;
      expect([row, column, workbook.at(SHEET, row, column)]).toEqual([
        row,
        column,
        typeof value === 'object' && value ? expect.objectContaining(value) : value,
      ]);
    }
    workbook.dispose();
  });
});
