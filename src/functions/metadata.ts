/** Excel's metadata of the functions (functions.json), from the catalogue. */
import {CATALOGUE} from './catalogue';
import type {Argument, Declaration} from './declare';

export interface FunctionMetadata {
  readonly id: string;
  readonly name: string;
  readonly description: string;
  readonly parameters: readonly ParameterMetadata[];
  readonly result: {readonly type: 'any'; readonly dimensionality: 'matrix'};
}

export interface ParameterMetadata {
  readonly name: string;
  readonly description: string;
  readonly type: 'any';
  readonly dimensionality: 'scalar' | 'matrix';
  readonly optional?: true;
  readonly repeating?: true;
}

/**
 * The whole file. Every argument is of type "any": with "number" Excel would convert first and refuse in its own
 * wordless way. Error cells reach the functions too, so that the message can name them.
 */
export const metadata = () => ({
  allowErrorForDataTypeAny: true,
  functions: CATALOGUE.map(functionMetadata),
});

const functionMetadata = (declared: Declaration): FunctionMetadata => ({
  id: declared.name,
  name: declared.name,
  description: declared.summary,
  parameters: declared.arguments.map(parameterMetadata),
  result: {type: 'any', dimensionality: 'matrix'},
});

const parameterMetadata = ({name, says, takes, dimension, optional, repeating}: Argument): ParameterMetadata => ({
  name,
  description: `${says[0].toUpperCase()}${says.slice(1)}: ${takes}.`,
  type: 'any',
  dimensionality: dimension,
  ...(optional ? {optional: true} : {}),
  ...(repeating ? {repeating: true} : {}),
});
