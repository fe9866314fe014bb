/** Charts on a sheet: their parts, the drawing that places them, and what the sheet says of it. */
import {chartXml, type ChartToSave} from './chartXml';
import {addRelatedPart, freePath, insertBeforeEnd, relationships, textPart} from './parts';
import {withElement, xmlText} from './sheetElements';
import {DECLARATION} from './tableXml';
import {tags} from './xml';
import type {Parts} from './zip';

/** A point on a sheet: a cell, zero-based, and the way from its upper left corner in points. */
export interface Corner {
  readonly row: number;
  readonly column: number;
  readonly right: number;
  readonly down: number;
}

export interface PlacedChart {
  readonly chart: ChartToSave;
  readonly from: Corner;
  readonly to: Corner;
}

const RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const SHEET_DRAWING = 'http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing';
const DRAWING = 'http://schemas.openxmlformats.org/drawingml/2006/main';
const CHART = 'http://schemas.openxmlformats.org/drawingml/2006/chart';
const TYPES = 'application/vnd.openxmlformats-officedocument';
const EMU_OF_POINT = 12700;

/** The sheet with charts added to those that it has. */
export function withCharts(parts: Parts, sheetPath: string, xml: string, charts: readonly PlacedChart[]): string {
  if (charts.length === 0) return xml;
  const there = relationships(parts, sheetPath).find(({type, target}) => type === 'drawing' && parts.has(target));
  const drawing = there?.target ?? freePath(parts, 'xl/drawings/drawing', '.xml');
  let made = xml;
  if (!there) {
    const text = DECLARATION + xmlText('xdr:wsDr', {'xmlns:xdr': SHEET_DRAWING, 'xmlns:a': DRAWING});
    const contentType = `${TYPES}.drawing+xml`;
    const id = addRelatedPart(parts, sheetPath, {
      path: drawing,
      text,
      contentType,
      relationshipType: `${RELATIONS}/drawing`,
    });
    made = withElement(xml, 'drawing', (prefix) => xmlText(`${prefix}drawing`, {'xmlns:r': RELATIONS, 'r:id': id}));
  }
  for (const placed of charts) {
    const id = addRelatedPart(parts, drawing, {
      path: freePath(parts, 'xl/charts/chart', '.xml'),
      text: DECLARATION + chartXml(placed.chart),
      contentType: `${TYPES}.drawingml.chart+xml`,
      relationshipType: `${RELATIONS}/chart`,
    });
    const number = shapes(textPart(parts, drawing)) + 2;
    insertBeforeEnd(parts, drawing, 'wsDr', () => anchor(placed, id, number));
  }
  return made;
}

/** How many things a drawing has; their numbers are unique in it. */
function shapes(xml: string): number {
  let count = 0;
  for (const {local, kind} of tags(xml)) if (local === 'cNvPr' && kind !== 'close') count++;
  return count;
}

function anchor({chart: {name}, from, to}: PlacedChart, id: string, number: number): string {
  const corner = (element: string, {row, column, right, down}: Corner): string => {
    const parts = {col: column, colOff: emu(right), row, rowOff: emu(down)};
    const each = Object.entries(parts).map(([part, value]) => xmlText(`xdr:${part}`, {}, String(value)));
    return xmlText(element, {}, each.join(''));
  };
  const shape = xmlText('xdr:cNvPr', {id: number, name, descr: `Chart: ${name}`}) + xmlText('xdr:cNvGraphicFramePr');
  const place = xmlText('a:off', {x: 0, y: 0}) + xmlText('a:ext', {cx: 0, cy: 0});
  const chart = xmlText('c:chart', {'xmlns:c': CHART, 'xmlns:r': RELATIONS, 'r:id': id});
  const frame = [
    xmlText('xdr:nvGraphicFramePr', {}, shape),
    xmlText('xdr:xfrm', {}, place),
    xmlText('a:graphic', {}, xmlText('a:graphicData', {uri: CHART}, chart)),
  ];
  return xmlText(
    'xdr:twoCellAnchor',
    {'xmlns:xdr': SHEET_DRAWING, 'xmlns:a': DRAWING},
    corner('xdr:from', from) +
      corner('xdr:to', to) +
      xmlText('xdr:graphicFrame', {macro: ''}, frame.join('')) +
      xmlText('xdr:clientData'),
  );
}

const emu = (points: number): number => Math.round(points * EMU_OF_POINT);
