import {functionsJson} from '../../src/tools/build/functionsJson';
import {probe} from '../../src/functions/probe';

test('every cell with its type, an argument left out as null', () => {
  expect(probe([[[0, '', true, {code: '#N/A'}]], null, 45_000])).toEqual([
    ['argument', 'row', 'column', 'type', 'value'],
    [1, 1, 1, 'number', '0'],
    [1, 1, 2, 'string', '""'],
    [1, 1, 3, 'boolean', 'true'],
    [1, 1, 4, 'object Object', '{"code":"#N/A"}'],
    [2, '–', '–', 'null', 'null'],
    [3, '–', '–', 'number', '45000'],
  ]);
});

test('what Excel should never hand over is shown too', () => {
  expect(probe([[1, [undefined, -0, NaN]]]).slice(1)).toEqual([
    [1, 1, '–', 'number', '1'],
    [1, 2, 1, 'undefined', 'undefined'],
    [1, 2, 2, 'number', '-0'],
    [1, 2, 3, 'number', 'NaN'],
  ]);
  expect(probe([])).toHaveLength(1);
});

test('a released build does not have it', () => {
  const names = (development: boolean): string[] =>
    functionsJson('https://wheels.example', development).functions.map(({name}) => name);
  expect(names(true)).toContain('PROBE');
  expect(names(false)).toEqual(names(true).filter((name) => name !== 'PROBE'));
});
