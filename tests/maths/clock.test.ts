/** CLOCK: 30° an hour, 7.5° a quarter of one. */
import {clock} from '../../src/maths/clock';

test.each([
  [0, '12:00'],
  [7.5, '12:15'],
  [15, '12:30'],
  [22.5, '12:45'],
  [30, '1:00'],
  [90, '3:00'],
  [135, '4:30'],
  [180, '6:00'],
  [270, '9:00'],
  [300, '10:00'],
  [337.5, '11:15'],
  [352.5, '11:45'],
  [360, '12:00'],
  [-30, '11:00'],
  [765, '1:30'],
])('%d° is %s', (angle, wanted) => {
  expect(clock(angle, true)).toBe(wanted);
});

test('the nearest quarter hour, halves up', () => {
  // Half a quarter is 3.75°.
  expect(clock(3.75 - 1e-6, true)).toBe('12:00');
  expect(clock(3.75, true)).toBe('12:15');
  expect(clock(11.25 - 1e-6, true)).toBe('12:15');
  expect(clock(11.25, true)).toBe('12:30');
  expect(clock(33.75, true)).toBe('1:15');
});

test('halves that binary falls short of are halves', () => {
  // The slack is 1E-9 of a quarter hour, 7.5E-9 degrees.
  expect(clock(3.75 - 7e-9, true)).toBe('12:15');
  expect(clock(3.75 - 8e-9, true)).toBe('12:00');
});

test('12:00 again after the wrap', () => {
  expect(clock(356.25 - 1e-6, true)).toBe('11:45');
  expect(clock(356.25, true)).toBe('12:00');
  expect(clock(359.99, true)).toBe('12:00');
});

test.each([
  [0, '12:00'],
  [30, '11:00'],
  [90, '9:00'],
  [135, '7:30'],
  [270, '3:00'],
  [352.5, '12:15'],
  // 3.75° backwards is 356.25°: halfway between 11:45 and 12:00.
  [3.75, '12:00'],
  [3.76, '11:45'],
])('numbered the other way %d° is %s', (angle, wanted) => {
  expect(clock(angle, false)).toBe(wanted);
});
