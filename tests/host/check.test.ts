/**
 * @jest-environment ./tests/host/support/environment.cjs
 *
 * The check of a workbook: every fault of a seeded set is found, at its cell, as what it is; and nothing else is.
 */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import {check, KINDS, type Finding} from '../../src/audit/check';
import {checkBook} from '../../src/host/book/audited';
import {readWorkbook} from '../../src/host/files/read';
import {nodeEngine} from './support/books';
import {sabotaged, sabotages} from './support/sabotage';

const demo = new Uint8Array(readFileSync(path.join(__dirname, '../../assets/demo.xlsx')));

const short = ({sheet, cell, kind}: Pick<Finding, 'sheet' | 'cell' | 'kind'>): string => `${sheet}!${cell} ${kind}`;

describe('the demo with one fault', () => {
  const all = sabotages(7);
  /** The engine takes its time: one of each kind. */
  const firsts = new Set(KINDS.map((kind) => all.find((sabotage) => sabotage.kind === kind)));

  test('twenty faults, all kinds', () => {
    expect(all).toHaveLength(20);
    expect(new Set(all.map(({kind}) => kind))).toEqual(new Set(KINDS));
  });

  test.each(all.map((sabotage) => [`${sabotage.kind}: ${sabotage.name}`, sabotage] as const))(
    '%s',
    async (_, sabotage) => {
      const book = await readWorkbook(await sabotaged(demo, sabotage));
      // By what the pane works out itself; and by the engine, as the command does it.
      expect(check(book).findings.map(short)).toEqual([short(sabotage)]);
      if (!firsts.has(sabotage)) return;
      const {findings} = await checkBook(book, nodeEngine());
      expect(findings.map(short)).toEqual([short(sabotage)]);
    },
    60000,
  );
});

test('the demo as it is: nothing', async () => {
  const book = await readWorkbook(demo);
  for (const {findings, unknown, formulas} of [await checkBook(book, nodeEngine()), check(book)]) {
    expect(findings).toEqual([]);
    expect(unknown).toEqual([]);
    expect(formulas).toBeGreaterThan(1100);
  }
}, 60000);
