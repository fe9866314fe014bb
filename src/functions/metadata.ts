/** Excel's metadata of the functions (functions.json), from the catalogue. */
import {CATALOGUE} from './catalogue';
import type {Argument, Declaration} from './declare';

export interface FunctionMetadata {
  readonly id: string;
  readonly name: string;
  readonly description: string;
  /** Page that explains the function. */
  readonly helpUrl?: string;
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
 * @param referencePage address of the page that explains the functions
 */
export const metadata = (referencePage?: string) => ({
  allowErrorForDataTypeAny: true,
  functions: CATALOGUE.map((declared) => functionMetadata(declared, referencePage)),
});

const functionMetadata = (declared: Declaration, referencePage: string | undefined): FunctionMetadata => ({
  id: declared.name,
  name: declared.name,
  description: declared.summary,
  ...(referencePage === undefined ? {} : {helpUrl: `${referencePage}#${declared.name.toLowerCase()}`}),
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
