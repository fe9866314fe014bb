/** Arguments like those of a function's example. */
import fc from 'fast-check';
import type {Cell, Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {parseFormula} from '../../host/formulas/syntax';
import {randomFrom} from '../random';
import type {Arguments} from './valid';

/** The arguments of a function's example. */
export function exampleArguments({name, example}: Declaration): Raw[] {
  const tree = parseFormula(example.formula);
  if (tree.type !== 'CallExpression') throw new Error(`the example of ${name} is no call`);
  return tree.arguments.map((argument): Raw => {
    if (argument === null) return null;
    if (argument.type === 'Literal') return argument.value;
    if (argument.type === 'ArrayExpression') {
      return argument.elements.map((row) => row.map((cell) => (cell.type === 'Literal' ? cell.value : null)));
    }
    throw new Error(`the example of ${name} has an argument that is no constant`);
  });
}

/** The example's cells, each left as it is or changed a little: another number near it, other letters and digits. */
export const exampleLike = (declared: Declaration): fc.Arbitrary<Arguments> => {
  const args = exampleArguments(declared);
  return fc.tuple(fc.nat(), fc.constantFrom(0, 0.05, 0.3)).map(([seed, share]) => {
    const random = randomFrom(seed);
    const change = (cell: Cell): Cell => (random() < share ? changed(cell, random) : cell);
    return args.map((raw): Raw =>
      Array.isArray(raw) ? raw.map((row: readonly Cell[]) => row.map(change)) : change(raw as Cell),
    );
  });
};

function changed(cell: Cell, random: () => number): Cell {
  if (typeof cell === 'boolean') return !cell;
  if (typeof cell === 'number')
    return Number.isInteger(cell) && random() < 0.7 ? cell + Math.floor(random() * 3) : cell * (0.5 + random());
  if (typeof cell !== 'string') return cell;
  return cell.replace(/[A-Za-z0-9]/g, (char) => {
    if (random() > 0.2) return char;
    return /\d/.test(char) ? String(Math.floor(random() * 10)) : String.fromCharCode(65 + Math.floor(random() * 26));
  });
}
