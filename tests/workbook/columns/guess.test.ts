/** Eight layouts and more: the guess is right on each, or says what it is not sure of. */
import {placeWords, SIDES, type Mapping} from '../../../src/workbook/columns/mapping';
import {Records} from '../../../src/workbook/columns/records';
import {sourcesOf} from '../../../src/workbook/columns/source';
import {guessWorkbook, type Guess} from '../../../src/workbook/guess/workbook';
import {LAYOUTS, UNSEEN, type Laid} from './layouts';

export function guessed({sheets, active}: Laid): Guess {
  const guesses = guessWorkbook(sheets.flatMap(sourcesOf));
  return guesses.find(({mapping}) => mapping.records.sheet === active) ?? guesses[0];
}

/** The mapping in words, as a person would check it. */
const inWords = ({records, columns, readings, firstOf}: Mapping): Record<string, string> => ({
  ...Object.fromEntries(
    [...columns].map(([role, {first, last}]) => [
      role,
      first === last ? records.headings[first] : `${records.headings[first]} to ${records.headings[last]}`,
    ]),
  ),
  ...Object.fromEntries([...readings].map(([side, place]) => [side, placeWords(place, records)])),
  ...(firstOf === undefined ? {} : {wheel: firstOf.map((k) => records.headings[k]).join(' + ')}),
});

describe.each(Object.entries({...LAYOUTS, ...UNSEEN}))('%s', (_, lay) => {
  const laid = lay();
  const guess = guessed(laid);

  test('the readings of every wheel are found', () => {
    const records = new Records(guess.mapping);
    expect(records.rows.length).toBe(laid.wheels.length);
    const truth = laid.wheels.map(({assembly, inner, outer}) => [assembly, inner, outer].map((list) => list.join()));
    const found = records.rows.map((record) => SIDES.map((side) => records.readings(side, record).values.join()));
    expect([...found].sort()).toEqual([...truth].sort());
  });

  test('roles and units', () => {
    expect({...inWords(guess.mapping), runout: guess.mapping.runoutUnit, doubts: guess.doubts}).toMatchSnapshot();
  });
});
