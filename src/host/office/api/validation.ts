/** Excel.DataValidation: recorded, and saved with the file; it is not enforced. */
import {meet} from '../../book/addresses';
import {sameArea} from '../areas';
import type {ValidationState} from '../state';
import {OfficeObject} from './officeObject';
import {invalid} from './problem';
import type {FormattedCells} from './formatParts';

const KINDS = ['list', 'wholeNumber', 'decimal', 'date', 'time', 'textLength', 'custom'] as const;

type Part = Readonly<Record<string, unknown>>;

const part = (given: unknown): Part => {
  if (typeof given !== 'object' || given === null || Array.isArray(given)) throw invalid();
  return given as Part;
};

export class DataValidation extends OfficeObject {
  readonly officeType = 'DataValidation';

  constructor(readonly cells: FormattedCells) {
    super(cells.surrounding);
  }

  get #all(): readonly ValidationState[] {
    return this.surrounding.book.state(this.cells.sheetId).validations;
  }

  get #state(): ValidationState | undefined {
    return (
      this.#all.find(({area}) => sameArea(area, this.cells.area)) ??
      this.#all.find(({area}) => meet(area, this.cells.area))
    );
  }

  #change(change: Partial<ValidationState>): void {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    const before = this.#all.find((one) => sameArea(one.area, area));
    const made: ValidationState = {
      ...(before ?? {area, rule: {}, ignoreBlanks: true, prompt: undefined, errorAlert: undefined}),
      ...change,
    };
    const others = this.#all.filter((one) => one !== before);
    this.surrounding.book.setSheet(sheetId, {validations: [...others, made]}, 'validations');
  }

  get rule(): unknown {
    return this.#state?.rule ?? {};
  }

  set rule(given: unknown) {
    const rule = part(given);
    if (!KINDS.some((kind) => kind in rule)) throw invalid();
    this.#change({rule});
  }

  get type(): string {
    const kind = KINDS.find((one) => this.#state && one in this.#state.rule);
    return kind === undefined ? 'None' : kind.charAt(0).toUpperCase() + kind.slice(1);
  }

  get ignoreBlanks(): boolean {
    return this.#state?.ignoreBlanks ?? true;
  }

  set ignoreBlanks(given: unknown) {
    this.#change({ignoreBlanks: given === true});
  }

  get prompt(): unknown {
    return this.#state?.prompt ?? null;
  }

  set prompt(given: unknown) {
    this.#change({prompt: part(given)});
  }

  get errorAlert(): unknown {
    return this.#state?.errorAlert ?? null;
  }

  set errorAlert(given: unknown) {
    this.#change({errorAlert: part(given)});
  }

  clear(): null {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    const validations = this.#all.filter((one) => !meet(one.area, area));
    this.surrounding.book.setSheet(sheetId, {validations}, 'validations');
    return null;
  }
}
