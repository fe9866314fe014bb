/** Errors as Excel answers them to office.js. */

export class OfficeProblem extends Error {
  constructor(
    readonly code: string,
    message: string,
  ) {
    super(message);
  }
}

export const notFound = (): OfficeProblem => new OfficeProblem('ItemNotFound', "The requested resource doesn't exist.");

export const invalid = (message = 'The argument is invalid or missing or has an incorrect format.'): OfficeProblem =>
  new OfficeProblem('InvalidArgument', message);

export const denied = (): OfficeProblem =>
  new OfficeProblem('AccessDenied', 'The cells are protected: take off the protection of the sheet first.');

export const taken = (): OfficeProblem =>
  new OfficeProblem('ItemAlreadyExists', 'The resource being created already exists.');

export const noSuchMember = (member: string): OfficeProblem =>
  new OfficeProblem('ApiNotFound', `${member} is not there in this local workbook host.`);

/** @throws OfficeProblem for what is not there */
export function present<T>(one: T | null | undefined): T {
  if (one === null || one === undefined) throw notFound();
  return one;
}
