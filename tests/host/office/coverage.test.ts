/** @jest-environment ./tests/host/support/environment.cjs */
import '../support/books';
import {supported} from '../../../src/host/office/api/registry';
import {loadOfficeJs} from './support/officeJs';
import {sourceFiles, usedMembers, type UsedMember} from './support/usedMembers';

/** What office.js does by itself, without asking the workbook. */
const OF_LIBRARY = new Set(['context', 'isNullObject', 'items', 'load', 'set', 'sync', 'toJSON', 'track', 'untrack']);

const library = loadOfficeJs().Excel as unknown as Record<string, {readonly prototype: object} | undefined>;

/** The method by which office.js registers for an event; undefined for the one that all documents have. */
function registration(className: string, event: string): string | undefined {
  const getter = Object.getOwnPropertyDescriptor(library[className]!.prototype, event)?.get;
  return /_this\.(_Register\w+)/.exec(String(getter))?.[1];
}

function missing({className, member, use}: UsedMember): boolean {
  if (OF_LIBRARY.has(member) || className === 'RequestContext') return false;
  if (/^on[A-Z]/.test(member)) {
    const method = registration(className, member);
    return method === undefined ? member !== 'onSelectionChanged' : !supported(className, method)?.call;
  }
  return !supported(className, member)?.[use];
}

const missingIn = (used: readonly UsedMember[]): string[] =>
  used.filter(missing).map(({className, member, use, place}) => `${className}.${member} (${use}) in ${place}`);

test('the host has every member of office.js that the add-in uses', () => {
  const used = usedMembers(sourceFiles('workbook', 'pane', 'entry'));
  // Whatever else changes, the add-in reads ranges and writes formulas.
  expect(
    used.some(({className, member, use}) => className === 'Range' && member === 'formulas' && use === 'write'),
  ).toBe(true);
  expect(used.length).toBeGreaterThan(50);
  expect(missingIn(used)).toEqual([]);
}, 120_000);

test('a member that the host does not have is found, whatever way it is used', () => {
  const text = `
    export async function probe(context: Excel.RequestContext): Promise<void> {
      const sheet = context.workbook.worksheets.getItem('A');
      const {shapes, name} = sheet;
      const chart = sheet.charts.getItem(name);
      chart.getImage(100);
      chart.pivotOptions.load();
      sheet['autoFilter'].apply('A1');
      sheet.getRange('A1').style = 'Good';
      sheet.onRowSorted.add(async () => undefined);
      context.workbook.slicers.load('items');
      sheet.id.toString();
      void shapes;
    }
  `;
  expect(missingIn(usedMembers([], {'src/workbook/probe.ts': text})).map((one) => one.split(' ')[0])).toEqual([
    'Worksheet.shapes',
    'Chart.getImage',
    'Chart.pivotOptions',
    'AutoFilter.apply',
    'Worksheet.autoFilter',
    'Range.style',
    'Worksheet.onRowSorted',
    'Workbook.slicers',
  ]);
}, 120_000);
