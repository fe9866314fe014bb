/** What the Columns view makes of what was read, and of changes by hand. */
import {contradictions, excelToday, inOrderOf, known, withColumns, withReadings} from '../../src/pane/columns/model';
import type {ReadWorkbook} from '../../src/workbook/columns/readWorkbook';
import {mapRows, parseMap} from '../../src/workbook/ledgerMap';
import {toLedgerMap} from '../../src/workbook/columns/ledgerMapping';
import {LAYOUTS, sheet, trueWheels, upTo} from '../workbook/columns/layouts';

const readOf = (name: string, change: Partial<ReadWorkbook> = {}): ReadWorkbook => {
  const {sheets, active} = LAYOUTS[name]();
  const selection = {sheet: active, row: 3, column: 1, rows: 1, columns: 1};
  return {sheets, selection, map: undefined, passedOver: [], ...change};
};
const WIDE = 'wide rows, limits and unbalance beside';

test('the sheet of the selection comes first; a sheet of readings is not taken for the wheels', () => {
  const {candidates, likely} = known(readOf('German, readings in a list on another sheet'));
  expect(candidates[likely].title).toBe('sheet Aufträge, 6 rows');
  expect(candidates[likely].limitsFrom).toEqual({kind: 'columns'});
});

test('a confirmed map is believed, also where it differs from the guess', () => {
  const read = readOf(WIDE);
  const {mapping} = known(read).candidates[0];
  const other = {...withColumns(mapping, 'Vehicle', 1), runoutUnit: 'in', clockwise: false};
  const map = parseMap(mapRows(toLedgerMap(withColumns(other, 'Position', undefined), {kind: 'columns'}, 'Curve')));
  const [candidate] = known({...read, map}).candidates;
  expect(candidate).toMatchObject({origin: 'map', doubts: []});
  expect(candidate.mapping).toMatchObject({runoutUnit: 'in', clockwise: false});
  expect(candidate.mapping.columns.get('Vehicle')).toEqual({first: 1, last: 1});
  expect(candidate.mapping.columns.has('Position')).toBe(false);
});

test('nothing to be found is no candidate', () => {
  const empty = sheet('Prices', [
    ['Item', 'Value'],
    ['Labor', 72],
  ]);
  expect(known(readOf(WIDE, {sheets: [empty]})).candidates).toEqual([]);
});

test('changes by hand that cannot be are said', () => {
  const {mapping} = known(readOf(WIDE)).candidates[0];
  expect(contradictions(mapping)).toEqual([]);
  const short = withReadings(mapping, 'Inner bead seat', {kind: 'row', span: {first: 20, last: 30}});
  expect(contradictions(short)[0]).toContain('different numbers of readings (16, 11, 16)');
  expect(contradictions(withColumns(mapping, 'Supplier', 1))[0]).toBe(
    'B · Pos is taken for Position and for Supplier.',
  );
  expect(contradictions(withColumns(mapping, 'Unbalance', 52, 53)).join()).toContain('four columns');
  expect(withReadings(mapping, 'Inner bead seat', undefined).readings.has('Inner bead seat')).toBe(false);
});

test('a list in another order is counted anew', () => {
  const {mapping} = known(readOf('a long list, one position a row')).candidates[0];
  const place = mapping.readings.get('Assembly readings')!;
  if (place.kind !== 'list') throw new Error('a list is wanted');
  expect(place).toMatchObject({counts: 'angles', positions: 12, at: 1});
  expect(inOrderOf(place, undefined)).toMatchObject({at: undefined, positions: 12});
  expect(inOrderOf({...place, positions: 3}, 1)).toMatchObject({at: 1, counts: 'angles', positions: 12});
});

test('angles in headings that are no even steps are doubted', () => {
  const uneven = [0, 30, 90, 120, 200, 300].map((d) => `${d}°`);
  const rows = trueWheels(3, 6).map((w) => [w.job, ...w.assembly]);
  const read = (heads: readonly string[]) => known(readOf(WIDE, {sheets: [sheet('S', [['Job', ...heads], ...rows])]}));
  expect(read(uneven).candidates[0].doubts.join()).toContain('no even steps');
  expect(read(upTo(6).map((i) => `${60 * (i - 1)}°`)).candidates[0].doubts.join()).not.toContain('no even steps');
  expect(read(upTo(6).map((i) => `R${i}`)).candidates[0].doubts.join()).not.toContain('no even steps');
});

test('days as Excel counts them', () => expect(excelToday(new Date(2026, 0, 1))).toBe(46023));
