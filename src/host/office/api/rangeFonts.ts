/** Excel.RangeFill and Excel.RangeFont. */
import {BLACK, color, FormatPart, WHITE} from './formatParts';
import {number, text} from './officeObject';
import {invalid} from './problem';

export class RangeFill extends FormatPart {
  readonly officeType = 'RangeFill';

  get color(): string | null {
    return this.read(({fill}) => fill ?? WHITE);
  }

  set color(given: unknown) {
    this.change({fill: given === '' ? null : color(given)});
  }

  clear(): null {
    this.change({fill: null});
    return null;
  }
}

/** Excel's own font of a cell that says nothing. */
const USUAL_FONT = {name: 'Calibri', size: 11};

export class RangeFont extends FormatPart {
  readonly officeType = 'RangeFont';

  get bold(): boolean | null {
    return this.read(({bold}) => bold === true);
  }

  set bold(given: unknown) {
    this.change({bold: given === true ? true : null});
  }

  get italic(): boolean | null {
    return this.read(({italic}) => italic === true);
  }

  set italic(given: unknown) {
    this.change({italic: given === true ? true : null});
  }

  get underline(): string | null {
    return this.read(({underline}) => (underline ? 'Single' : 'None'));
  }

  set underline(given: unknown) {
    this.change({underline: given === 'None' ? null : true});
  }

  get strikethrough(): boolean | null {
    return this.read(({strikethrough}) => strikethrough === true);
  }

  set strikethrough(given: unknown) {
    this.change({strikethrough: given === true ? true : null});
  }

  get color(): string | null {
    return this.read((look) => look.color ?? BLACK);
  }

  set color(given: unknown) {
    this.change({color: color(given)});
  }

  get name(): string | null {
    return this.read(({font}) => font ?? USUAL_FONT.name);
  }

  set name(given: unknown) {
    this.change({font: text(given)});
  }

  get size(): number | null {
    return this.read(({size}) => size ?? USUAL_FONT.size);
  }

  set size(given: unknown) {
    if (number(given) < 1 || number(given) > 409) throw invalid();
    this.change({size: number(given)});
  }
}
