/** From a style of the grid back to a look. */
import type {Border, CellLook, LineStyle, Side} from '../files/looks';

/** A style in the words of the grid, as far as the host follows it. */
export interface GridStyle {
  readonly n?: {readonly pattern?: string} | null;
  readonly ff?: string | null;
  readonly fs?: number | null;
  readonly bl?: number | null;
  readonly it?: number | null;
  readonly ul?: {readonly s?: number} | null;
  readonly st?: {readonly s?: number} | null;
  readonly cl?: {readonly rgb?: string | null} | null;
  readonly bg?: {readonly rgb?: string | null} | null;
  readonly ht?: number | null;
  readonly vt?: number | null;
  readonly tb?: number | null;
  readonly bd?: Readonly<Partial<Record<'t' | 'r' | 'b' | 'l', GridLine | null>>> | null;
}

interface GridLine {
  readonly s?: number;
  readonly cl?: {readonly rgb?: string | null};
}

const LINES: readonly (LineStyle | undefined)[] = [
  undefined,
  'thin',
  'hair',
  'dotted',
  'dashed',
  'dashDot',
  'dashDotDot',
  'double',
  'medium',
  'mediumDashed',
  'mediumDashDot',
  'mediumDashDotDot',
  'slantDashDot',
  'thick',
];
const HORIZONTAL = [undefined, 'left', 'center', 'right', 'justify'] as const;
const VERTICAL = [undefined, 'top', 'center', 'bottom'] as const;
const SIDES: Readonly<Record<'t' | 'r' | 'b' | 'l', Side>> = {t: 'top', r: 'right', b: 'bottom', l: 'left'};
const WRAP = 3;

/** The look that a style of the grid stands for. */
export function lookOfStyle(style: GridStyle): CellLook {
  const color = hexColor(style.cl?.rgb);
  const fill = hexColor(style.bg?.rgb);
  const horizontal = HORIZONTAL[style.ht ?? 0];
  const vertical = VERTICAL[style.vt ?? 0];
  const borders = bordersOf(style);
  const numberFormat = style.n?.pattern;
  return {
    ...(numberFormat && numberFormat !== 'General' ? {numberFormat} : {}),
    ...(style.ff ? {font: style.ff} : {}),
    ...(style.fs ? {size: style.fs} : {}),
    ...(style.bl ? {bold: true} : {}),
    ...(style.it ? {italic: true} : {}),
    ...(style.ul?.s ? {underline: true} : {}),
    ...(style.st?.s ? {strikethrough: true} : {}),
    ...(color === undefined ? {} : {color}),
    ...(fill === undefined ? {} : {fill}),
    ...(horizontal === undefined ? {} : {horizontal}),
    ...(vertical === undefined ? {} : {vertical}),
    ...(style.tb === WRAP ? {wrap: true} : {}),
    ...(borders === undefined ? {} : {borders}),
  };
}

function bordersOf({bd}: GridStyle): CellLook['borders'] {
  const borders: Partial<Record<Side, Border>> = {};
  for (const [key, side] of Object.entries(SIDES) as ['t' | 'r' | 'b' | 'l', Side][]) {
    const line = bd?.[key];
    const style = LINES[line?.s ?? 0];
    if (style) borders[side] = {style, color: hexColor(line?.cl?.rgb) ?? '#000000'};
  }
  return Object.keys(borders).length === 0 ? undefined : borders;
}

/** The grid's own colors are written as "#abc", "#aabbcc" or "rgb(1, 2, 3)". */
function hexColor(color: string | null | undefined): string | undefined {
  if (!color) return undefined;
  const long = /^#([0-9a-f]{6})/i.exec(color);
  if (long) return `#${long[1].toUpperCase()}`;
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(color);
  if (short)
    return `#${short
      .slice(1)
      .map((digit) => digit + digit)
      .join('')
      .toUpperCase()}`;
  const numbers = /^rgba?\(\s*(\d+)\s*,\s*(\d+)\s*,\s*(\d+)/i.exec(color);
  if (!numbers) return undefined;
  const hex = numbers.slice(1).map((number) => Math.min(255, Number(number)).toString(16).padStart(2, '0'));
  return `#${hex.join('').toUpperCase()}`;
}
