import {inWords, withUncertainty} from '../../src/maths/format';

test.each([
  [0.46200001, '0.462'],
  [12345.678, '12350'],
  [0, '0'],
  [-0.5, '-0.5'],
  [1e-7, '1e-7'],
  [2, '2'],
])('inWords(%p) is %p', (value, text) => expect(inWords(value)).toBe(text));

test.each([
  [0.15649, 0.0053, '0.1565 ± 0.0053'],
  [1.2156, 0.294, '1.22 ± 0.29'],
  [0.8684, 0.0099, '0.8684 ± 0.0099'],
  [0.8684, 0.01, '0.868 ± 0.010'],
  [1234.5, 56, '1235 ± 56'],
  [1234.4, 560, '1234 ± 560'],
  [0.123456, 0, '0.1235'],
])('%p ± %p is written %p', (value, plusminus, text) => expect(withUncertainty(value, plusminus)).toBe(text));
