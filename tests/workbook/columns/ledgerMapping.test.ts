/** What was confirmed is read back from the visible map as it was. */
import {fromLedgerMap, toLedgerMap} from '../../../src/workbook/columns/ledgerMapping';
import {likelyLimits, settingsTablesOf} from '../../../src/workbook/columns/settings';
import {sourcesOf} from '../../../src/workbook/columns/source';
import {guessWorkbook} from '../../../src/workbook/guess/workbook';
import {mapRows, parseMap} from '../../../src/workbook/ledgerMap';
import {LAYOUTS, UNSEEN} from './layouts';

test.each(Object.entries({...LAYOUTS, ...UNSEEN}))('%s', (_, lay) => {
  const {sheets, active} = lay();
  const sources = sheets.flatMap(sourcesOf);
  const {mapping} = guessWorkbook(sources).find((guess) => guess.mapping.records.sheet === active)!;
  const limitsFrom = likelyLimits(mapping, settingsTablesOf(sheets));
  const rows = mapRows(toLedgerMap(mapping, limitsFrom, 'Curve'));
  expect(rows).toMatchSnapshot();
  const read = fromLedgerMap(parseMap(rows)!, sources)!;
  expect(read.mapping).toEqual(mapping);
  expect(read.limitsFrom).toEqual(limitsFrom);
});

test('a map whose columns are gone is no map', () => {
  const {sheets} = LAYOUTS['wide rows, limits and unbalance beside']();
  const sources = sheets.flatMap(sourcesOf);
  const [{mapping}] = guessWorkbook(sources);
  const map = toLedgerMap(mapping, {kind: 'columns'}, 'Curve');
  const renamed = sources.map((source) => ({
    ...source,
    headings: source.headings.map((h) => (h === 'Pos' ? 'Place' : h)),
  }));
  expect(fromLedgerMap(map, renamed)).toBeUndefined();
  expect(fromLedgerMap(map, [])).toBeUndefined();
});
