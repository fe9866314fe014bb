/** Runs of neighboring columns whose headings share their words and count up: the readings around a turn. */

export interface Run {
  /** What the headings share, the number left out. */
  readonly words: string;
  readonly first: number;
  readonly count: number;
  /** The numbers are angles: they go up to a turn in even steps. */
  readonly angles: boolean;
}

/** Fewer readings than this around a turn are no run. */
export const FEWEST = 6;

/** Number at the end of a heading and the words before it: "Assembly 22.5°" → "Assembly", 22.5. */
function numbered(heading: string): {words: string; number: number} | undefined {
  const found = /^(.*?)[\s#]*(\d+(?:[.,]\d+)?)\s*(?:°|deg|grad)?\s*(.*)$/.exec(heading.trim());
  if (found === null || /\d/.test(found[3])) return undefined;
  return {words: `${found[1]} ${found[3]}`.trim(), number: Number(found[2].replace(',', '.'))};
}

export function runs(headings: readonly string[]): Run[] {
  const list = headings.map(numbered);
  const found: Run[] = [];
  let start = 0;
  const goesOn = (i: number): boolean => {
    const [a, b] = [list[i - 1], list[i]];
    return a !== undefined && b !== undefined && a.words === b.words && b.number > a.number;
  };
  for (let i = 1; i <= headings.length; i++) {
    if (i < headings.length && goesOn(i)) continue;
    if (i - start >= FEWEST) {
      const numbers = list.slice(start, i).map((item) => item!.number);
      found.push({words: list[start]!.words, first: start, count: i - start, angles: areAngles(numbers)});
    }
    start = i;
  }
  return found;
}

const areAngles = (numbers: readonly number[]): boolean => {
  const step = 360 / numbers.length;
  return numbers[0] === 0 && numbers.every((v, i) => Math.abs(v - i * step) < 0.02 * step);
};
