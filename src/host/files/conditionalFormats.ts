/** Conditional formats of a sheet, those kinds that the grid can show. */
import {parseArea, type Area} from '../book/addresses';
import type {CellLook} from './looks';
import {attribute, tags, textContent, type Tag} from './xml';

export type Rule =
  | {readonly kind: 'value'; readonly operator: string; readonly formulas: readonly string[]; readonly look: CellLook}
  | {readonly kind: 'formula'; readonly formula: string; readonly look: CellLook}
  | {readonly kind: 'scale'; readonly points: readonly {type: string; value: number | undefined; color: string}[]}
  | {readonly kind: 'bar'; readonly color: string};

export interface ConditionalFormat {
  readonly areas: readonly Area[];
  /** The first cell, to which formulas refer. */
  readonly first: string;
  readonly stop: boolean;
  readonly rule: Rule;
}

interface Element {
  readonly tag: Tag;
  /** The text between its tags. */
  readonly inside: string;
}

/** The elements of a name, at any depth but not within each other. */
function* elements(xml: string, local: string): Generator<Element, void> {
  let opened: Tag | undefined;
  for (const tag of tags(xml)) {
    if (tag.local !== local) continue;
    if (tag.kind === 'empty') yield {tag, inside: ''};
    if (tag.kind === 'open') opened = tag;
    if (tag.kind === 'close' && opened) yield {tag: opened, inside: xml.slice(opened.end, tag.start)};
  }
}

export function conditionalFormats(sheet: string, styles: string): ConditionalFormat[] {
  const looks = differentialLooks(styles);
  const found: (ConditionalFormat & {priority: number})[] = [];
  for (const {tag, inside} of elements(sheet, 'conditionalFormatting')) {
    const references = (attribute(tag.attributes, 'sqref') ?? '').split(/\s+/).filter(Boolean);
    const areas = references.flatMap((reference) => parseArea(reference) ?? []);
    if (areas.length === 0) continue;
    const first = references[0].split(':')[0].replace(/\$/g, '');
    for (const {tag: rule, inside: content} of elements(inside, 'cfRule')) {
      const read = readRule(rule.attributes, content, looks);
      const stop = attribute(rule.attributes, 'stopIfTrue') === '1';
      const priority = Number(attribute(rule.attributes, 'priority') ?? 0);
      if (read) found.push({areas, first, stop, rule: read, priority});
    }
  }
  return found.sort((a, b) => a.priority - b.priority);
}

function readRule(attributes: string, content: string, looks: readonly CellLook[]): Rule | undefined {
  const type = attribute(attributes, 'type');
  const look = looks[Number(attribute(attributes, 'dxfId') ?? -1)] ?? {};
  const formulas = [...elements(content, 'formula')].map(({inside}) => textContent(inside));
  if (type === 'cellIs' && formulas.length > 0) {
    return {kind: 'value', operator: attribute(attributes, 'operator') ?? 'equal', formulas, look};
  }
  if (type === 'expression' && formulas.length > 0) return {kind: 'formula', formula: formulas[0], look};
  const colors = [...elements(content, 'color')].map(({tag}) => rgb(tag.attributes) ?? '#808080');
  if (type === 'colorScale') {
    const points = [...elements(content, 'cfvo')].map(({tag}, i) => {
      const value = attribute(tag.attributes, 'val');
      return {
        type: attribute(tag.attributes, 'type') ?? 'min',
        value: value === undefined || value.trim() === '' || Number.isNaN(Number(value)) ? undefined : Number(value),
        color: colors[i] ?? '#808080',
      };
    });
    return points.length > 1 ? {kind: 'scale', points} : undefined;
  }
  return type === 'dataBar' ? {kind: 'bar', color: colors[0] ?? '#638EC6'} : undefined;
}

/** The looks that conditional formats put over those of the cells. */
function differentialLooks(styles: string): CellLook[] {
  const all = [...elements(styles, 'dxfs')][0]?.inside ?? '';
  return [...elements(all, 'dxf')].map(({inside}) => {
    const font = [...elements(inside, 'font')][0]?.inside ?? '';
    const fill = [...elements(inside, 'fill')][0]?.inside ?? '';
    const color = [...elements(font, 'color')].map(({tag}) => rgb(tag.attributes))[0];
    const background = [...elements(fill, 'bgColor')].map(({tag}) => rgb(tag.attributes))[0];
    return {
      ...(isOn(font, 'b') ? {bold: true} : {}),
      ...(isOn(font, 'i') ? {italic: true} : {}),
      ...(isOn(font, 'strike') ? {strikethrough: true} : {}),
      ...(color === undefined ? {} : {color}),
      ...(background === undefined ? {} : {fill: background}),
    };
  });
}

function isOn(font: string, local: string): boolean {
  const [found] = elements(font, local);
  return found !== undefined && attribute(found.tag.attributes, 'val') !== '0';
}

/** "FF1F497D" → "#1F497D". */
function rgb(attributes: string): string | undefined {
  const found = /^[0-9a-f]{2}([0-9a-f]{6})$/i.exec(attribute(attributes, 'rgb') ?? '');
  return found ? `#${found[1]}` : undefined;
}
