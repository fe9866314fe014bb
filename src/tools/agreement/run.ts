/** `npm run agreement`: how far the three engines of a working agree, function by function. */
import {CATALOGUE} from '../../functions/catalogue';
import {loadWorkings} from '../../working/workingOf';
import {books, judgeBooks, secondEngine} from './judge';
import {inFolder, recalculated, spreadsheetThere} from './spreadsheet';

/** Random calls of each function, and those of them that are written into workbooks. */
const CALLS = 200;
const WRITTEN = 5;

const shown = (difference: number): string => (difference === 0 ? '0' : difference.toExponential(1));

await loadWorkings();
const functions = CATALOGUE.filter(({name}) => name !== 'WORKING');
const there = spreadsheetThere();
if (!there) console.error('LibreOffice (soffice) is not installed: its column stays empty.');
const sheets = there
  ? await inFolder(async (folder) => {
      const made = books(functions, WRITTEN);
      const files = ['written', 'changed'].map((name) => `${folder}/${name}.xlsx`);
      await made.written.save(files[0]);
      await made.changed.save(files[1]);
      return judgeBooks(made, await recalculated(files, folder));
    })
  : new Map();

console.log(`Largest difference in relation to the largest input of the same unit (angles: 360°), ${CALLS} random calls
each, ${WRITTEN} of them in a spreadsheet as written and with an input changed.

| function | steps | cells | function – mathjs | function – spreadsheet |
|---|--:|--:|--:|--:|`);
let problems = 0;
for (const declared of functions) {
  const second = secondEngine(declared, CALLS);
  const sheet = sheets.get(declared.name);
  console.log(
    `| ${declared.name} | ${second.steps} | ${sheet?.cells ?? ''} | ${shown(second.largest)} | ${sheet ? shown(sheet.largest) : ''} |`,
  );
  for (const problem of [...second.problems, ...(sheet?.problems ?? [])]) {
    problems++;
    console.error(`${declared.name}: ${problem}`);
  }
}
console.log(`\n${problems === 0 ? 'All agree.' : `${problems} figures do not agree.`}`);
process.exitCode = problems === 0 ? 0 : 1;
