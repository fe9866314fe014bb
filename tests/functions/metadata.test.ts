/**
 * functions.json: what Excel stores with every workbook. A renamed or reordered argument after release would break the
 * shops' sheets, so any change of the reviewed snapshot has to be meant.
 */
import {metadata} from '../../src/functions/metadata';

const {functions, allowErrorForDataTypeAny} = metadata();

test('names, arguments and their order are as reviewed', () => {
  const signature = functions.map(({name, parameters}) => {
    const list = parameters.map((p) => {
      const shape = p.dimensionality === 'matrix' ? '[][]' : '';
      const written = `${p.name}${shape}${p.repeating ? '…' : ''}`;
      return p.optional ? `[${written}]` : written;
    });
    return `${name}(${list.join(', ')})`;
  });
  expect(signature).toMatchSnapshot();
});

test('keeps to what Excel accepts', () => {
  expect(allowErrorForDataTypeAny).toBe(true);
  for (const {id, name, description, parameters, result} of functions) {
    expect(id).toBe(name);
    expect(id).toMatch(/^[A-Z][A-Z0-9]{2,63}$/);
    expect(description.length).toBeLessThanOrEqual(1024);
    expect(result).toEqual({type: 'any', dimensionality: 'matrix'});
    const optional = parameters.map((p) => p.optional ?? false);
    // Once an argument may be left out, so may all behind it.
    expect(optional).toEqual([...optional].sort((a, b) => Number(a) - Number(b)));
    for (const p of parameters) {
      expect(p.type).toBe('any');
      expect(p.description.length).toBeLessThanOrEqual(512);
    }
    parameters.forEach((p, i) =>
      expect(p.repeating ?? false).toBe(p.repeating === true && i === parameters.length - 1),
    );
  }
});
