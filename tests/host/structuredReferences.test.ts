import {parseArea} from '../../src/host/book/addresses';
import type {Table} from '../../src/host/book/content';
import {storedFormula} from '../../src/host/formulas/stored';
import {withoutPrefixes} from '../../src/host/formulas/functionNames';
import type {Surroundings} from '../../src/host/formulas/surroundings';
import {translate} from '../../src/host/formulas/translate';

const TABLE: Table = {
  name: 'Tbl',
  sheet: 'Data 1',
  area: parseArea('A1:G6')!,
  header: true,
  totals: true,
  columns: ['R1', 'R2', 'R3', 'Odd name (mm)', '#1', "it's [x]", ' lead'],
};
const FUNCTIONS: Surroundings['functions'] = {
  namespace: 'WHEEL',
  parameters: (name) => (name === 'X' || name === 'A.B' ? [{dimensionality: 'matrix', repeating: true}] : undefined),
  native: (name) => /^(SUM|IF|INDEX)$/.test(name),
};
const SURROUNDINGS: Surroundings = {
  sheets: ['Data 1', 'Out'],
  usedRows: 100,
  usedColumns: 20,
  names: [],
  tables: [TABLE],
  functions: FUNCTIONS,
};
const INSIDE = {sheet: 'Data 1', row: 3, column: 6};
const OTHER_SHEET = {sheet: 'Out', row: 3, column: 0};
const IN_HEADER = {sheet: 'Data 1', row: 0, column: 8};

const translated = (formula: string, at = INSIDE): string => {
  const {text, wrong} = translate(formula, at, 'dynamic', SURROUNDINGS);
  return wrong ?? text;
};

describe('structured references become plain ones', () => {
  test.each([
    ['=WHEEL.X(Tbl[@R1],"Tbl[@R",[@R2]*2)', '=WHEEL.X($A4,HOST.CONSTANT("_22Tbl_5B_40R_22"),($B4*2))'],
    ['=SUM(Tbl[@[R1]:[R3]])', '=SUM($A4:$C4)'],
    ['=SUM(Tbl[[#This Row],[R1]:[R3]])', '=SUM($A4:$C4)'],
    ['=SUM(Tbl[[#This Row],[R3]:[R1]])', '=SUM($A4:$C4)'],
    ['=Tbl[@Odd name (mm)]', '=$D4'],
    ['=Tbl[@[Odd name (mm)]]', '=$D4'],
    ["=Tbl[@['#1]]", '=$E4'],
    ["=Tbl[@[it''s '[x']]]", '=$F4'],
    ["=Tbl[[it''s '[x']]]", '=$F$2:$F$5'],
    ['=Tbl[@[ lead]]', '=$G4'],
    ['=tbl[@r1]', '=$A4'],
    ['=SUM(Tbl[@R1]:Tbl[@R3])', '=SUM($A4:$C4)'],
    ['=SUM(Tbl[@])', '=SUM($A4:$G4)'],
    ['=IF([@R1]="","",[@R1])', '=IF(($A4=""),"",$A4)'],
    ['=_xldudf_WHEEL_X(Tbl[[#This Row],[R1]:[R3]])', '=WHEEL.X($A4:$C4)'],
    ['=_xldudf_WHEEL_A_B(1)', '=WHEEL.A.B(1)'],
    ["='Data 1'!A1+[@R1]", '=(A1+$A4)'],
    ['=Tbl[[R1]:[R3]]', '=$A$2:$C$5'],
    ['=@Tbl[R1]', '=HOST.SINGLE($A$2:$A$5)'],
  ])('%s', (formula, expected) => expect(translated(formula)).toBe(expected));

  test.each([
    ['=SUM(Tbl[])', "=SUM('Data 1'!$A$2:$G$5)"],
    ['=SUM(Tbl)', "=SUM('Data 1'!$A$2:$G$5)"],
    ['=SUM(Tbl[#All])', "=SUM('Data 1'!$A$1:$G$6)"],
    ['=Tbl[#Headers]', "='Data 1'!$A$1:$G$1"],
    ['=Tbl[[#Headers],[R1]]', "='Data 1'!$A$1"],
    ['=SUM(Tbl[[#Headers],[#Data],[R1]])', "=SUM('Data 1'!$A$1:$A$5)"],
    ['=SUM(Tbl[[#Data],[#Totals],[R1]])', "=SUM('Data 1'!$A$2:$A$6)"],
    ['=Tbl[[#Totals],[R2]]', "='Data 1'!$B$6"],
    ['=LET(tbl_a,1,tbl_a)+Tbl[R1]', "=(LET(tbl_a,1,tbl_a)+'Data 1'!$A$2:$A$5)"],
  ])('%s on another sheet', (formula, expected) => expect(translated(formula, OTHER_SHEET)).toBe(expected));

  test.each([
    ['=Tbl[@R1]', OTHER_SHEET, /own row, which is not a row of the table Tbl/],
    ['=Tbl[@R1]', IN_HEADER, /own row, which is not a row of the table Tbl/],
    ['=[@R1]', OTHER_SHEET, /names no table/],
    ['=[@Nope]', INSIDE, /no column Nope/],
    ['=Other[x]+1', INSIDE, /there is no table Other/],
    ["=Tbl[@'#1]", INSIDE, /cannot be read/],
    ["=Tbl['#1]", OTHER_SHEET, /.*/],
    ["='[Book.xlsx]S'!A1+Tbl[@R1]", INSIDE, /another workbook/],
  ])('%s', (formula, at, words) => expect(translated(formula, at)).toMatch(words));

  test('a formula with the own row keeps its meaning in the rows of the table alone', () => {
    expect(translate('=[@R1]*2', INSIDE, 'plain', SURROUNDINGS).rows).toEqual({from: 1, to: 4});
    expect(translate('=A1*2', INSIDE, 'plain', SURROUNDINGS).rows).toEqual({from: 0, to: 1048575});
  });

  test('what a formula reads is known', () => {
    const {reads, readsMore, ours} = translate('=WHEEL.X(Tbl[@R1],Out!$B$2:C3)', INSIDE, 'dynamic', SURROUNDINGS);
    expect(reads).toMatchObject([
      {sheet: 'Data 1', top: 3, bottom: 3, left: 0, right: 0, $top: false, $left: true},
      {sheet: 'Out', top: 1, left: 1, bottom: 2, right: 2, $top: true, $bottom: false},
    ]);
    expect([readsMore, ours]).toEqual([false, true]);
  });
});

describe('formulas as written and as stored', () => {
  const stored = (formula: string): string => storedFormula(formula, {namespace: 'WHEEL', at: INSIDE, tables: [TABLE]});

  test.each([
    ['=WHEEL.X(A1,wheel.x(2))', '_xldudf_WHEEL_X(A1,_xldudf_WHEEL_X(2))'],
    ['=WHEEL.X([@R1],Tbl[@[R1]:[R3]])', '_xldudf_WHEEL_X(Tbl[[#This Row],[R1]],Tbl[[#This Row],[R1]:[R3]])'],
    ['=SUM(A1#)+@B1:B9', 'SUM(_xlfn.ANCHORARRAY(A1))+_xlfn.SINGLE(B1:B9)'],
    ['=SUM(SEQUENCE(3))&FILTER(A1:A3,A1:A3>1)', 'SUM(_xlfn.SEQUENCE(3))&_xlfn._xlws.FILTER(A1:A3,A1:A3>1)'],
    ['=LET(a,A1#,b,2,a*b+SUM(a))', '_xlfn.LET(_xlpm.a,_xlfn.ANCHORARRAY(A1),_xlpm.b,2,_xlpm.a*_xlpm.b+SUM(_xlpm.a))'],
    ['=MAP(A1:A3,LAMBDA(x,x+1))', '_xlfn.MAP(A1:A3,_xlfn.LAMBDA(_xlpm.x,_xlpm.x+1))'],
    ['="WHEEL.X(""@A1#"")"&A1', '"WHEEL.X(""@A1#"")"&A1'],
    ['=@WHEEL.X(@A1:A3)', '_xlfn.SINGLE(_xldudf_WHEEL_X(_xlfn.SINGLE(A1:A3)))'],
    ['=STDEV(A1:A3)+STDEV.S(A1:A3)', 'STDEV(A1:A3)+_xlfn.STDEV.S(A1:A3)'],
  ])('%s', (formula, expected) => expect(stored(formula)).toBe(expected));

  test('back to what a user writes', () => {
    expect(withoutPrefixes('_xldudf_WHEEL_X(A1)+_xlfn._xlws.SORT(_xlfn.LET(_xlpm.a,1,_xlpm.a))', FUNCTIONS)).toBe(
      'WHEEL.X(A1)+SORT(LET(a,1,a))',
    );
    expect(withoutPrefixes('_xldudf_OTHER_X(A1)', FUNCTIONS)).toBe('_xldudf_OTHER_X(A1)');
  });

  test('a formula that cannot be read cannot be stored', () => expect(() => stored('=SUM(')).toThrow());
});
