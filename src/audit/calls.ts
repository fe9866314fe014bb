/** A call of one of our functions that a formula makes: its arguments with where they come from, and its answer. */
import type {AstExpression} from '@borgar/fx';
import type {Raw} from '../functions/cells';
import type {Declaration} from '../functions/declare';
import type {Reference} from '../host/formulas/references';
import type {Grid} from './evaluate/values';

export interface ArgumentMade {
  /** Name of the argument; repeated ones are counted: "arguments 1", "arguments 2". */
  readonly name: string;
  readonly node: AstExpression | null;
  /** As the formula has it; empty when it was left out or stands in the definition of a name. */
  readonly text: string;
  /** As the function gets it. */
  readonly raw: Raw;
  /** The cells of which it is, cell by cell; undefined when it was calculated otherwise or typed into the formula. */
  readonly from: Reference | undefined;
  /** All cells that were looked at for it. */
  readonly reads: readonly Reference[];
}

export interface CallMade {
  /** Where in the formula. */
  readonly node: AstExpression;
  readonly declaration: Declaration;
  readonly args: readonly ArgumentMade[];
  readonly answer: Grid;
}

/** The arguments as the function gets them: repeated ones come as a list. */
export function rawsOf(declaration: Declaration, args: readonly ArgumentMade[]): Raw[] {
  const raws = args.map(({raw}) => raw);
  const single = declaration.arguments.findIndex(({repeating}) => repeating);
  if (single < 0 || raws.length <= single) return raws;
  return [...raws.slice(0, single), raws.slice(single) as unknown as Raw];
}
