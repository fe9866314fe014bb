/** Workings of the functions that read what stands on the sidewall. */
import {ROLLING_FACTOR, tireSize, UNWRITTEN_ASPECT, type Place} from '../../maths/tireSize';
import {HIGHEST_INDEX, loadCapacity, SPEED_SYMBOLS, symbolSpeed} from '../../maths/tireTables';
import {tin} from '../../maths/tin';
import {upTo} from './fit';
import type {Steps} from './steps';

/** Pieces of the text where the function read them, then the arithmetic. */
export function tireSizeSteps(s: Steps, {text}: {text: string}): void {
  const {pieces} = tireSize(text);
  const piece = (symbol: string, {at, length}: Place, unit: string, says: string): Steps =>
    s.piece(symbol, 'text', at, length, unit, says);
  piece('W', pieces.width, pieces.kind === 'inch' ? 'in' : 'mm', 'section width as written');
  if (pieces.aspect !== undefined) piece('a', pieces.aspect, '%', 'aspect ratio as written');
  if (pieces.diameter !== undefined) piece('O', pieces.diameter, 'in', 'overall diameter as written');
  piece('mark', pieces.construction, '', 'construction as written');
  piece('rim', pieces.rim, 'in', 'rim diameter code');
  s.answer('rim', {part: 'rim'}).figure(
    'construction',
    'same(mark, "B") ? "B" : (same(mark, "D") or same(mark, "-") ? "D" : "R")',
    {says: 'R radial, D diagonal, B bias-belted', part: 'construction'},
  );
  s.figure('d', 'floor(25.4*rim + 0.5)', {unit: 'mm', says: 'rim diameter'});
  if (pieces.kind === 'inch') inchSteps(s);
  else metricSteps(s, pieces.aspect !== undefined);
  s.figure('circumference', `same(construction, "R") ? ${ROLLING_FACTOR}*diameter : none()`, {
    unit: 'mm',
    says: 'rolling circumference, by the published factor for radial tires',
    part: 'circumference',
  });
  if (pieces.loadindex === undefined) s.figure('loadindex', 'none()', {says: 'no load index is written'});
  else piece('loadindex', pieces.loadindex, '', 'load index');
  if (pieces.symbol === undefined) s.figure('symbol', 'none()', {says: 'no speed symbol is written'});
  else {
    piece('written', pieces.symbol, '', 'speed symbol as written');
    s.figure('symbol', 'upper(written)', {says: 'speed symbol'});
  }
  s.answer('loadindex', {part: 'loadindex'}).answer('symbol', {part: 'symbol'});
}

function metricSteps(s: Steps, written: boolean): void {
  s.figure('width', 'W', {unit: 'mm', says: 'nominal section width', part: 'width'})
    .figure('aspect', written ? 'a' : String(UNWRITTEN_ASPECT), {
      unit: '%',
      says: written ? 'aspect ratio' : `none is written: ${UNWRITTEN_ASPECT} % (common practice)`,
      part: 'aspect',
    })
    .figure('section', 'floor(0.01*aspect*W + 0.5)', {unit: 'mm', says: 'section height, rounded', part: 'section'})
    .figure('diameter', 'd + 2*section', {unit: 'mm', says: 'overall diameter', part: 'diameter'});
}

function inchSteps(s: Steps): void {
  s.figure('width', '25.4*W', {unit: 'mm', says: 'nominal section width', part: 'width'})
    .figure('aspect', 'none()', {unit: '%', says: 'an inch size has no aspect ratio', part: 'aspect'})
    .figure('diameter', '25.4*O', {unit: 'mm', says: 'overall diameter', part: 'diameter'})
    .figure('section', '(diameter - d)/2', {unit: 'mm', says: 'section height', part: 'section'});
}

export function loadIndexSteps(s: Steps): void {
  const indices = upTo(HIGHEST_INDEX + 1).map((i) => i - 1);
  s.input('i', 'index', 0, '', 'load index')
    .rows('table', indices.length)
    .columnConstant('table', 'I', indices, 'load index')
    .columnConstant('table', 'Q', indices.map(loadCapacity), 'load capacity', 'kg')
    .figure('load', 'lookup(i, I, Q)', {unit: 'kg', says: 'row of the table', part: 'loadindex'});
}

export function speedSymbolSteps(s: Steps): void {
  s.input('x', 'symbol', 0, '', 'speed symbol')
    .rows('table', SPEED_SYMBOLS.length)
    .columnConstant('table', 'S', SPEED_SYMBOLS, 'speed symbol')
    .columnConstant('table', 'V', SPEED_SYMBOLS.map(symbolSpeed), 'speed', 'km/h')
    .figure('speed', 'lookup(trimmed(x), S, V)', {unit: 'km/h', says: 'row of the table', part: 'speedsymbol'});
}

export function tinSteps(s: Steps, {text}: {text: string}): void {
  const {dateDigits} = tin(text);
  s.input('x', 'text', 0, '', 'number as it stands')
    .figure('c', 'compact(x)', {says: 'capitals, without blanks and hyphens'})
    .figure('y', 'same(mid(c, 1, 3), "DOT") ? mid(c, 4, 20) : c', {says: 'without DOT'})
    .figure('n', 'textlength(y)', {says: 'symbols'})
    .found('d', dateDigits, '', 'digits of the date, as the function reads it: 3 only on tires from before 2000')
    .figure('p', 'n == 13 or (n == 7 and d == 4) ? 3 : 2', {says: 'symbols of the plant code'})
    .figure('plant', 'mid(y, 1, p)', {says: 'plant code', part: 'plant'})
    .figure('code', 'mid(y, p + 1, n - d - p)', {says: 'the maker’s own symbols', part: 'code'})
    .figure('week', 'numberin(mid(y, n - d + 1, 2))', {says: 'week', part: 'week'})
    .figure('t', 'numberin(mid(y, n - d + 3, d - 2))', {says: 'digits of the year'})
    .figure('year', 'd == 4 ? (t >= 90 ? 1900 + t : 2000 + t) : none()', {
      says: 'year; three digits leave the decade open',
      part: 'year',
    })
    .figure('J', 'd == 4 ? newyear(year) : none()', {unit: 'date', says: 'January 1'})
    .figure('D', 'd == 4 ? J - 1 - 7*floor((J - 1)/7) : none()', {says: 'its day of the week, 0 for Sunday'})
    .figure('sunday', 'd == 4 ? J + (D == 0 ? 0 : 7 - D) + 7*(week - 1) : none()', {
      unit: 'date',
      says: 'first Sunday of the year and whole weeks',
      part: 'sunday',
    });
}
