/** Copies of the demo ledger with one fault each, and where a check should find it. */
import {recompute} from '../../../src/host/book/recompute';
import {parseCell} from '../../../src/host/book/addresses';
import type {CellValue} from '../../../src/host/book/cells';
import {patchWorkbook, type CellEdit} from '../../../src/host/files/patch';
import {readWorkbook} from '../../../src/host/files/read';
import {storedFormula} from '../../../src/host/formulas/stored';
import type {Kind} from '../../../src/audit/check';
import {cellAddress} from '../../../src/host/book/addresses';
import {columnIndex, COLUMNS} from '../../../src/tools/demo/columns';
import {HEADER_ROW} from '../../../src/tools/demo/book';
import {drawWheels, type DrawnWheel} from '../../../src/tools/demo/draw';
import {SIGNED_RECORDS} from '../../../src/tools/demo/signed';
import {randomFrom} from '../../../src/tools/random';
import {nodeEngine} from './books';

export interface Sabotage {
  readonly name: string;
  readonly kind: Kind;
  readonly sheet: string;
  readonly cell: string;
  /** What is done to the file. */
  readonly edits: readonly CellEdit[];
  /** Somebody's edit, after which Excel calculates; a value that is changed alone stays as it is. */
  readonly calculates: boolean;
}

const at = (sheet: string, cell: string) => ({sheet, ...parseCell(cell)!});

/** Something typed into a cell. */
const typed = (sheet: string, cell: string, value: CellValue): CellEdit => ({
  ...at(sheet, cell),
  value,
  formula: null,
});

const written = (sheet: string, cell: string, text: string, dynamic = true): CellEdit => ({
  ...at(sheet, cell),
  value: null,
  formula: {text: storedFormula(text, {namespace: 'WHEEL', at: at(sheet, cell), tables: []}), dynamic},
});

/** What a cell shows, changed behind its formula's back. */
const shows = (sheet: string, cell: string, value: CellValue): CellEdit => ({
  ...at(sheet, cell),
  value,
  calculated: true,
});

/** Twenty faults of all kinds; which records they strike is drawn. */
export function sabotages(seed: number): Sabotage[] {
  const random = randomFrom(seed);
  const wheels = drawWheels();
  const pick = (fits: (wheel: DrawnWheel, i: number) => boolean = () => true): number => {
    const rows = wheels.flatMap((wheel, i) => (fits(wheel, i) && i >= SIGNED_RECORDS ? [i] : []));
    return rows[Math.floor(random() * rows.length)];
  };
  const wheel = (name: string, i: number): string => cellAddress(HEADER_ROW + i, columnIndex(name));
  const formula = (name: string): string => COLUMNS[columnIndex(name)].formula!;
  const measured = (w: DrawnWheel): boolean => w.unbalance !== undefined;
  const complete = (w: DrawnWheel): boolean => !w.assembly.includes(undefined);
  const mounted = wheels.findIndex(({story}) => story === 'mounting error');
  const found: Sabotage[] = [];
  const add = (kind: Kind, name: string, sheet: string, cell: string, edits: CellEdit[], calculates = true): void => {
    found.push({kind, name, sheet, cell, edits, calculates});
  };

  let i = pick(({story}) => story === 'bad tire');
  add('typed over', 'a finding is typed', 'Wheels', wheel('Finding', i), [
    typed('Wheels', wheel('Finding', i), 'accept'),
  ]);
  i = pick();
  add('typed over', 'a limit is typed', 'Wheels', wheel('Limit', i), [typed('Wheels', wheel('Limit', i), 1.1)]);
  i = pick(measured);
  add('typed over', 'a weight is typed', 'Wheels', wheel('In stock', i), [typed('Wheels', wheel('In stock', i), 35)]);

  i = pick();
  add(
    'stale value',
    'an amount is of yesterday',
    'Wheels',
    wheel('Assembly', i),
    [shows('Wheels', wheel('Assembly', i), 0.3123)],
    false,
  );
  const spilled = `C${5 + Math.floor(random() * 60)}`;
  add(
    'stale value',
    'a cell within an array is of yesterday',
    'Findings',
    spilled,
    [shows('Findings', spilled, 0.5)],
    false,
  );
  i = pick(({story}) => story === 'bad tire');
  add(
    'stale value',
    'a finding is of yesterday',
    'Wheels',
    wheel('Finding', i),
    [shows('Wheels', wheel('Finding', i), 'accept')],
    false,
  );

  const seat = `Wheels!${wheel('I1', mounted)}:${wheel('I16', mounted)}`;
  const other = `Wheels!${wheel('O1', mounted)}:${wheel('O16', mounted)}`;
  add('blank read as zero', 'readings with a blank, as they are', 'Remounts', 'B5', [
    typed('Wheels', wheel('I5', mounted), null),
    written(
      'Remounts',
      'B5',
      `=WHEEL.BEADSEATS(WHEEL.HARMONIC(${seat}),WHEEL.HARMONIC(IF(${other}="","",${other})),"amount")`,
    ),
  ]);
  add('blank read as zero', 'a column by EACHROW, as it is', 'Findings', 'C4', [
    {
      ...written('Findings', 'C4', '=WHEEL.EACHROW("HARMONIC",Wheels[[A1]:[A16]],2,,"amount")'),
      area: {top: 3, bottom: 2 + wheels.length, left: 2, right: 2},
    },
  ]);
  i = wheels.findIndex((w) => w.limits.class === 'heavy' && measured(w));
  add('blank read as zero', 'a plane without its position', 'Wheels', wheel('In stock', i), [
    typed('Planes', 'B6', null),
  ]);

  i = pick();
  add('differs from its neighbors', 'another figure of the same function', 'Wheels', wheel('Turn', i), [
    written('Wheels', wheel('Turn', i), `=${formula('Turn').replace('"turn"', '"after"')}`),
  ]);
  i = pick(complete);
  add('differs from its neighbors', 'a formula one reading short', 'Wheels', wheel('Check', i), [
    written('Wheels', wheel('Check', i), `=${formula('Check').replace(/\[A16\]/g, '[A15]')}`),
  ]);

  add('mixed units or limits', 'a limit in inches', 'Limits', 'B5', [typed('Limits', 'B5', 0.031)]);
  add('mixed units or limits', 'a call in other units', 'Tolerances', 'H5', [
    written('Tolerances', 'H5', '=WHEEL.FORCE(G5,F5,C5,D5,"us")'),
  ]);
  i = pick();
  add('mixed units or limits', 'a limit within the formula', 'Wheels', wheel('Reason', i), [
    written(
      'Wheels',
      wheel('Reason', i),
      `=${formula('Reason').replace('Wheels[[#This Row],[Limit]:[Curve limit]]', '{1.2,0.9,2}')}`,
    ),
  ]);

  i = pick();
  add(
    'lost function',
    'one cell',
    'Wheels',
    wheel('Assembly', i),
    [shows('Wheels', wheel('Assembly', i), {code: '#NAME?'})],
    false,
  );
  add(
    'lost function',
    'a call for a whole column',
    'Findings',
    'C4',
    [
      {...shows('Findings', 'C4', {code: '#NAME?'}), area: {top: 3, bottom: 3, left: 2, right: 2}},
      ...wheels.slice(1).map((_, k) => shows('Findings', `C${5 + k}`, null)),
    ],
    false,
  );

  i = 1 + Math.floor(random() * (SIGNED_RECORDS - 1));
  add('broken fingerprint', 'a reading changed after sign-off', 'Signed', `D${4 + i}`, [
    typed('Wheels', wheel('A3', i), (wheels[i].assembly[2] ?? 0) + 0.11),
  ]);
  i = 1 + Math.floor(random() * (SIGNED_RECORDS - 2));
  add('broken fingerprint', 'another fingerprint was kept', 'Signed', `D${4 + i}`, [
    typed('Signed', `D${4 + i}`, '0ed44303f712bfe4'),
  ]);

  add('error', 'a text for a speed', 'Tolerances', 'E5', [typed('Tolerances', 'C5', 'fast')]);
  i = pick(measured);
  add('error', 'a text for an angle', 'Wheels', wheel('In stock', i), [typed('Wheels', wheel('In °', i), 'top')]);
  return found;
}

/** The file with a fault in it. */
export async function sabotaged(bytes: Uint8Array, {edits, calculates}: Sabotage): Promise<Uint8Array> {
  const patched = patchWorkbook(bytes, edits);
  return calculates ? (await recompute(patched, await readWorkbook(patched), nodeEngine(), 'all')).bytes : patched;
}
