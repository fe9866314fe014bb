/** Tire and wheel data: what stands on the sidewall. */
import {tireSize} from '../maths/tireSize';
import {HIGHEST_INDEX, loadCapacity, symbolSpeed} from '../maths/tireTables';
import {tin} from '../maths/tin';
import {part} from './answers';
import {count, text} from './arguments';
import {family} from './declare';

const {functions, declare, declareCell} = family('Tire and wheel data');
export const TIRES = functions;

const tireWorking = () => import(/* webpackChunkName: "working" */ './workings/tire');

declare({
  name: 'TIRESIZE',
  summary:
    'A tire size taken apart: width, aspect ratio, rim, overall diameter, rolling circumference, load and speed.',
  notes: [
    'Letter case, blanks and remarks such as XL, C or a load range do not matter.',
    'A size without an aspect ratio, such as 195R14C, is taken as 80 % (common practice).',
    'An inch size names its own diameter and has no aspect ratio.',
  ],
  arguments: {text: text('the size as it stands on the sidewall, such as 205/55R16 91V')},
  parts: {
    width: part('nominal section width', 'mm'),
    aspect: part('aspect ratio', '%', 'an inch size has no aspect ratio'),
    construction: part('R radial, D diagonal, B bias-belted', ''),
    rim: part('rim diameter code', 'in'),
    diameter: part('overall diameter', 'mm'),
    section: part('section height', 'mm'),
    circumference: part('rolling circumference', 'mm', 'the factor is known for radial tires only'),
    loadindex: part('load index, single fitment', '', 'the text has no load index'),
    symbol: part('speed symbol', '', 'the text has no speed symbol'),
  },
  answer: ({text}) => tireSize(text),
  working: async () => (await tireWorking()).tireSizeSteps,
  mathematics:
    'D = d + 2H, H = 0.01·aspect·width, d = 25.4·rim code, each rounded to mm; circumference = 3.05·D for radial tires; an inch size names D and width itself.',
  source: 'UN R30 and R54 (rolling factor from memory)',
  errors: [
    '#VALUE!: a piece that cannot be read, which the message names',
    '#N/A for a figure that the text does not have',
  ],
  example: {formula: '=WHEEL.TIRESIZE("P205/55R16 91V")', gives: [[205, 55, 'R', 16, 632, 113, 1927.6, 91, 'V']]},
});

declareCell({
  name: 'LOADINDEX',
  summary: 'Load capacity of a load index.',
  arguments: {index: count('load index', 0, HIGHEST_INDEX)},
  gives: part('load capacity', 'kg'),
  answer: ({index}) => loadCapacity(index),
  working: async () => (await tireWorking()).loadIndexSteps,
  mathematics: 'Table.',
  source: 'UN R30 Annex 4 and R54 Annex IV (values from memory)',
  example: {formula: '=WHEEL.LOADINDEX(91)', gives: [[615]]},
});

declareCell({
  name: 'SPEEDSYMBOL',
  summary: 'Speed of a speed symbol.',
  arguments: {symbol: text('speed symbol, such as V')},
  gives: part('speed', 'km/h'),
  answer: ({symbol}) => symbolSpeed(symbol),
  working: async () => (await tireWorking()).speedSymbolSteps,
  mathematics: 'Table.',
  source: 'UN R30 2.29 and R54 2.28 (values from memory)',
  example: {formula: '=WHEEL.SPEEDSYMBOL("H")', gives: [[210]]},
});

declare({
  name: 'TIN',
  summary:
    'A tire identification number taken apart: plant, the maker’s code, week and year, and the day that week began.',
  notes: [
    'sunday is a date: format the cell as one.',
    'A date of three digits, before 2000, leaves the decade open; no guess is made.',
  ],
  arguments: {text: text('the number as it stands on the sidewall, with or without DOT')},
  parts: {
    plant: part('plant code', ''),
    code: part('the maker’s own symbols', ''),
    week: part('week', ''),
    year: part('year', '', 'a date of three digits leaves the decade open'),
    sunday: part('date of the first day of that week', 'date', 'a date of three digits leaves the decade open'),
  },
  answer: ({text}) => tin(text),
  working: async () => (await tireWorking()).tinSteps,
  mathematics:
    '13 symbols: plant 3; up to 12: plant 2; 7: retread, plant 3. The last four are week and year; week 01 is the first full week, Sunday to Saturday. Years 90–99 are 1990–1999.',
  source: '49 CFR 574.5; 80 FR 19553',
  errors: [
    '#VALUE!: a symbol that is not used, a wrong number of them, no week',
    'year and sunday are #N/A for dates of three digits',
  ],
  example: {formula: '=WHEEL.TIN("DOT 1HD 2A021X 1225")', gives: [['1HD', '2A021X', 12, 2025, 45739]]},
});
