/** Reading the formulas of a sheet anew that refer to something by its name. */
import type {Surroundings, Translation} from '../formulas/surroundings';
import {translate} from '../formulas/translate';
import {cellKey} from './addresses';
import {alone, prepareCell, type FormulaState, type Prepared, type Sheet} from './cellStates';

export class Renewal {
  /** What became of translations that several cells share: undefined when their meaning has changed. */
  readonly #renewed = new Map<Translation, Translation | undefined>();

  constructor(
    private readonly sheet: Sheet,
    private readonly surroundings: Surroundings,
  ) {}

  /** The formulas that mean something else now. Those that mean the same keep what the engine has of them. */
  *formulas(): Iterable<Prepared> {
    for (const [at, state] of this.sheet.cells) {
      const {row, column, value, formula} = state;
      if (!formula?.translation.named) continue;
      const same = this.#stillValid(formula);
      if (same && row >= same.rows.from && row <= same.rows.to) {
        this.sheet.cells.set(at, {...state, formula: {...formula, translation: same}});
        continue;
      }
      const content = {row, column, value, formula: alone(formula.content)};
      const prepared = prepareCell(this.sheet.name, content, this.surroundings, formula.kept === undefined);
      const {stored} = formula;
      yield {...prepared, state: {...prepared.state, formula: {...prepared.state.formula!, stored}}};
    }
  }

  #stillValid({translation, origin, content: {kind}}: FormulaState): Translation | undefined {
    if (this.#renewed.has(translation)) return this.#renewed.get(translation);
    const first = this.sheet.cells.get(cellKey(origin.row, origin.column))?.formula;
    let renewed: Translation | undefined;
    if (first?.translation === translation && origin.sheet === this.sheet.name) {
      const now = translate(first.content.text, origin, kind, this.surroundings);
      if (now.text === translation.text && now.wrong === translation.wrong) renewed = now;
    }
    this.#renewed.set(translation, renewed);
    return renewed;
  }
}
