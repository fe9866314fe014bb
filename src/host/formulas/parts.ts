/** The parts of a formula: one place that tells them apart, for all that goes through a formula's tree. */
import type {
  ArrayExpression,
  AstExpression,
  CallExpression,
  ErrorLiteral,
  LambdaExpression,
  LetExpression,
  Literal,
  ReferenceIdentifier,
} from '@borgar/fx';
import type {Wanted} from './legacy';

/** What is made of each kind of part, in a place where `wanted` is wanted of it. */
export interface Parts<Made> {
  /** An argument that was left out. */
  leftOut(): Made;
  literal(node: Literal): Made;
  error(node: ErrorLiteral): Made;
  array(node: ArrayExpression): Made;
  reference(node: ReferenceIdentifier, wanted: Wanted): Made;
  unary(operator: string, operand: AstExpression, wanted: Wanted): Made;
  binary(operator: string, left: AstExpression, right: AstExpression, wanted: Wanted): Made;
  call(node: CallExpression, wanted: Wanted): Made;
  let(node: LetExpression, wanted: Wanted): Made;
  lambda(node: LambdaExpression): Made;
}

/** Takes a part of a formula to what is made of its kind. */
export function madeOf<Made>(parts: Parts<Made>, node: AstExpression | null, wanted: Wanted): Made {
  if (node === null) return parts.leftOut();
  switch (node.type) {
    case 'Literal':
      return parts.literal(node);
    case 'ErrorLiteral':
      return parts.error(node);
    case 'ArrayExpression':
      return parts.array(node);
    case 'ReferenceIdentifier':
      return parts.reference(node, wanted);
    case 'UnaryExpression':
      return parts.unary(node.operator, node.arguments[0], wanted);
    case 'BinaryExpression':
      return parts.binary(node.operator, node.arguments[0], node.arguments[1], wanted);
    case 'CallExpression':
      return parts.call(node, wanted);
    case 'LetExpression':
      return parts.let(node, wanted);
    case 'LambdaExpression':
      return parts.lambda(node);
  }
}
