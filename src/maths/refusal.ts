/**
 * Why a figure is not given. `invalid`: the input is of the wrong kind, shape or value (Excel: #VALUE!);
 * `unavailable`: the question is sound but cannot be answered yet, such as too few readings (Excel: #N/A).
 */
export type Reason = 'invalid' | 'unavailable';

/** Thrown instead of ever returning a wrong figure. The message is written for the person at the worksheet. */
export class Refusal extends Error {
  /** @param argument the argument at fault, named as in the worksheet function; it leads the message. */
  constructor(
    readonly reason: Reason,
    message: string,
    readonly argument?: string,
  ) {
    super(argument === undefined ? message : `${argument}: ${message}`);
  }
}

export const invalid = (message: string, argument?: string): Refusal => new Refusal('invalid', message, argument);

export const unavailable = (message: string, argument?: string): Refusal =>
  new Refusal('unavailable', message, argument);
