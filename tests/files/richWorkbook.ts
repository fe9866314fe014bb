/**
 * A workbook as a shop might bring it: assembled by hand, rich in parts that a careless program loses, and with stored
 * values that are out of date on purpose. Wheels and readings are invented.
 */
import {strToU8, zipSync, type Zippable} from 'fflate';

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const DOCUMENT = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';
const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\r\n';

export const SHEET = 'Wheel sets';
export const SUMMARY = 'Übersicht & more';
export const SHEET_PART = 'xl/worksheets/sheet1.xml';
export const SUMMARY_PART = 'xl/worksheets/sheet7.xml';

/** Readings of the sets: rim, its angle, tire, its angle. The rim of set 4 is a text. */
export const SETS: readonly (readonly (number | string)[])[] = [
  [0.8, 40, 0.6, 100],
  [0.5, 0, 0.5, 90],
  [1.25, 315, 0.4, 12.5],
  ['n/a', 10, 0.3, 20],
  [0.7, 270, 0.9, 181],
];

const relationships = (entries: readonly (readonly [string, string, string, boolean?])[]): string =>
  `${HEAD}<Relationships xmlns="${PACKAGE}/relationships">${entries
    .map(
      ([id, type, target, external]) =>
        `<Relationship Id="${id}" Type="${type.startsWith('http') ? type : `${DOCUMENT}/${type}`}" Target="${target}"${external ? ' TargetMode="External"' : ''}/>`,
    )
    .join('')}</Relationships>`;

const CONTENT_TYPES =
  `${HEAD}<Types xmlns="${PACKAGE}/content-types"><Default Extension="png" ContentType="image/png"/>` +
  '<Default Extension="bin" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.printerSettings"/>' +
  '<Default Extension="vml" ContentType="application/vnd.openxmlformats-officedocument.vmlDrawing"/>' +
  '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>' +
  [
    ['/xl/workbook.xml', 'spreadsheetml.sheet.main'],
    ['/xl/worksheets/sheet1.xml', 'spreadsheetml.worksheet'],
    ['/xl/worksheets/sheet7.xml', 'spreadsheetml.worksheet'],
    ['/xl/theme/theme1.xml', 'theme'],
    ['/xl/styles.xml', 'spreadsheetml.styles'],
    ['/xl/sharedStrings.xml', 'spreadsheetml.sharedStrings'],
    ['/xl/metadata.xml', 'spreadsheetml.sheetMetadata'],
    ['/xl/calcChain.xml', 'spreadsheetml.calcChain'],
    ['/xl/tables/table1.xml', 'spreadsheetml.table'],
    ['/xl/comments1.xml', 'spreadsheetml.comments'],
    ['/xl/drawings/drawing1.xml', 'drawing'],
    ['/xl/charts/chart1.xml', 'drawingml.chart'],
  ]
    .map(
      ([part, type]) =>
        `<Override PartName="${part}" ContentType="application/vnd.openxmlformats-officedocument.${type}+xml"/>`,
    )
    .join('') +
  '<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/>' +
  '<Override PartName="/docProps/app.xml" ContentType="application/vnd.openxmlformats-officedocument.extended-properties+xml"/></Types>';

const WORKBOOK =
  `${HEAD}<workbook xmlns="${MAIN}" xmlns:r="${DOCUMENT}" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" mc:Ignorable="x15" xmlns:x15="http://schemas.microsoft.com/office/spreadsheetml/2010/11/main">` +
  '<fileVersion appName="xl" lastEdited="7" lowestEdited="7" rupBuild="27328"/><workbookPr defaultThemeVersion="166925"/>' +
  '<bookViews><workbookView xWindow="-120" yWindow="-120" windowWidth="29040" windowHeight="15840" activeTab="0" xr2:uid="{0}" xmlns:xr2="http://schemas.microsoft.com/office/spreadsheetml/2015/revision2"/></bookViews>' +
  `<sheets><sheet name="${SHEET}" sheetId="1" r:id="rId1"/><sheet name="Übersicht &amp; more" sheetId="9" r:id="rId2"/></sheets>` +
  `<definedNames><definedName name="_xlnm.Print_Area" localSheetId="0">'${SHEET}'!$A$1:$M$20</definedName><definedName name="Limit" hidden="1">'${SHEET}'!$B$19</definedName><definedName name="Turns">'${SHEET}'!$F$5:$F$7</definedName></definedNames>` +
  '<calcPr calcId="191029" fullCalcOnLoad="1"/></workbook>';

const METADATA =
  `${HEAD}<metadata xmlns="${MAIN}" xmlns:xda="http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray"><metadataTypes count="1"><metadataType name="XLDAPR" minSupportedVersion="120000" copy="1" pasteAll="1" pasteValues="1" merge="1" splitFirst="1" rowColShift="1" clearFormats="1" clearComments="1" assign="1" coerce="1" cellMeta="1"/></metadataTypes>` +
  '<futureMetadata name="XLDAPR" count="1"><bk><extLst><ext uri="{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}"><xda:dynamicArrayProperties fDynamic="1" fCollapsed="0"/></ext></extLst></bk></futureMetadata><cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>';

const STYLES =
  `${HEAD}<styleSheet xmlns="${MAIN}"><numFmts count="1"><numFmt numFmtId="164" formatCode="0.0&quot; °&quot;"/></numFmts><fonts count="2"><font><sz val="11"/><color theme="1"/><name val="Calibri"/><family val="2"/><scheme val="minor"/></font><font><b/><sz val="14"/><color rgb="FF1F4E78"/><name val="Calibri"/></font></fonts>` +
  '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>' +
  '<cellXfs count="4"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/><xf numFmtId="14" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/><xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs>' +
  '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles><dxfs count="1"><dxf><font><color rgb="FF9C0006"/></font></dxf></dxfs><tableStyles count="0" defaultTableStyle="TableStyleMedium2"/></styleSheet>';

const SHARED_STRINGS =
  `${HEAD}<sst xmlns="${MAIN}" count="12" uniqueCount="11"><si><r><rPr><b/><sz val="14"/></rPr><t>Wheel </t></r><r><t xml:space="preserve">sets </t></r></si>` +
  ['Set', 'Rim', 'Rim angle', 'Tire', 'Tire angle', 'Turn', 'Share', 'n/a', 'do not move', '  spaces &amp; signs &lt;é&gt;  ']
    .map((text) => `<si><t xml:space="preserve">${text}</t></si>`)
    .join('') +
  '</sst>';
const TEXTS = ['Wheel sets ', 'Set', 'Rim', 'Rim angle', 'Tire', 'Tire angle', 'Turn', 'Share', 'n/a', 'do not move'];

const TABLE =
  `${HEAD}<table xmlns="${MAIN}" id="1" name="Sets" displayName="Sets" ref="A4:G9" totalsRowShown="0"><autoFilter ref="A4:G9"/><tableColumns count="7">` +
  ['Set', 'Rim', 'Rim angle', 'Tire', 'Tire angle', 'Turn', 'Share']
    .map((name, i) => `<tableColumn id="${i + 1}" name="${name}"/>`)
    .join('') +
  '</tableColumns><tableStyleInfo name="TableStyleMedium2" showFirstColumn="0" showLastColumn="0" showRowStripes="1" showColumnStripes="0"/></table>';

const shared = (address: string, text: string, style = ''): string =>
  `<c r="${address}"${style} t="s"><v>${TEXTS.indexOf(text)}</v></c>`;

const TURN =
  '_xldudf_WHEEL_MATCH(Sets[[#This Row],[Rim]:[Rim angle]],Sets[[#This Row],[Tire]:[Tire angle]],&quot;turn&quot;)';

/** A row of the table. The turns are stored wrong, but for the first. */
function setRow(i: number): string {
  const row = 5 + i;
  const cells = SETS[i].map((value, c) => {
    const address = `${'BCDE'[c]}${row}`;
    return typeof value === 'string' ? shared(address, value) : `<c r="${address}"><v>${value}</v></c>`;
  });
  const turn = `<c r="F${row}" s="3" cm="1"><f t="array" ref="F${row}">${TURN}</f><v>${i === 0 ? 120 : 999}</v></c>`;
  const share =
    i === 0
      ? '<c r="G5"><f t="shared" ref="G5:G9" si="0">F5/360</f><v>0.33333333333333331</v></c>'
      : `<c r="G${row}"><f t="shared" si="0"/><v>9</v></c>`;
  return `<c r="A${row}"><v>${i + 1}</v></c>${cells.join('')}${turn}${share}`;
}

const SPILL = (row: number): string => `_xldudf_WHEEL_MATCH(B${row}:C${row},D${row}:E${row})`;

/** Cells right of the table: arrays whose stored size is no longer right. */
const ARRAYS: Readonly<Record<number, string>> = {
  // Too small: L5 has a style and no value, M5 is not there.
  5: `<c r="J5" cm="1"><f t="array" ref="J5:K5">${SPILL(5)}</f><v>1</v></c><c r="K5"><v>2</v></c><c r="L5" s="3"/>`,
  // Too large: N7 has to go.
  7: `<c r="J7" cm="1"><f t="array" ref="J7:N7">${SPILL(7)}</f><v>1</v></c><c r="K7"><v>2</v></c><c r="L7"><v>3</v></c><c r="M7"><v>4</v></c><c r="N7" s="3"><v>5</v></c>`,
  // Blocked by a text.
  9: `<c r="J9" cm="1"><f t="array" ref="J9:M9">${SPILL(9)}</f><v>1</v></c><c r="K9"><v>2</v></c>${shared('L9', 'do not move')}<c r="M9"><v>4</v></c>`,
};

const SHEET_XML =
  `${HEAD}<worksheet xmlns="${MAIN}" xmlns:r="${DOCUMENT}" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" mc:Ignorable="x14ac" xmlns:x14ac="http://schemas.microsoft.com/office/spreadsheetml/2009/9/ac" xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main" xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main">` +
  '<sheetPr codeName="Sheet1"><tabColor rgb="FF4472C4"/><pageSetUpPr fitToPage="1"/></sheetPr><dimension ref="A1:N20"/>' +
  "<sheetViews><sheetView tabSelected='1' workbookViewId='0'><pane ySplit='4' topLeftCell='A5' activePane='bottomLeft' state='frozen'/><selection pane='bottomLeft' activeCell='F6' sqref='F6'/></sheetView></sheetViews>" +
  '<sheetFormatPr defaultRowHeight="15" x14ac:dyDescent="0.25"/><cols><col min="1" max="1" width="6.7109375" customWidth="1"/><col min="13" max="13" width="12" style="3" customWidth="1"/></cols>' +
  `<sheetData><row r="1" spans="1:14" ht="18.75" x14ac:dyDescent="0.3">${shared('A1', 'Wheel sets ', ' s="1"')}</row>\n` +
  '  <row r="2" spans="1:14"><!-- odds and ends --><c r="A2" t="inlineStr"><is><t xml:space="preserve"> dated </t></is></c><c r="B2" s="2"><v>45413</v></c><c r="C2" t="b"><v>1</v></c><c r="D2" t="e"><v>#N/A</v></c><c r="E2" t="s"><v>10</v></c></row>\n' +
  `<row r="4" spans="1:14">${['Set', 'Rim', 'Rim angle', 'Tire', 'Tire angle', 'Turn', 'Share'].map((name, c) => shared(`${'ABCDEFG'[c]}4`, name)).join('')}</row>` +
  SETS.map((_, i) => `<row r="${5 + i}" spans="1:14" x14ac:dyDescent="0.25">${setRow(i)}${ARRAYS[5 + i] ?? ''}</row>`).join('') +
  // Native formulas: those that depend on ours are out of date, the others are too, and none of our business.
  '<row r="12" spans="1:14"><c r="B12"><f t="array" ref="B12:D12">TRANSPOSE(B5:B7)</f><v>998</v></c><c r="C12"><v>997</v></c><c r="D12"><v>996</v></c></row>' +
  '<row r="13" spans="1:14"><c r="B13"><f>SUM(F5:F7)</f><v>1</v></c><c r="C13"><f>AVERAGE(Turns)</f><v>1</v></c></row>' +
  '<row r="14" spans="1:14"><c r="B14"><f>SUM(Sets[Turn])</f><v>1</v></c></row>' +
  '<row r="15" spans="1:14"><c r="B15"><f>GETPIVOTDATA("x",A1)+B13</f><v>42.5</v></c></row>' +
  '<row r="16" spans="1:14"><c r="B16"><f>B5*2</f><v>999</v></c></row>' +
  '<row r="17" spans="1:14"><c r="B17" t="str"><f>TEXT(F5,"0.0")&amp;" &lt;°&gt; "</f><v>old</v></c></row>' +
  '<row r="18" spans="1:14"><c r="B18" t="b"><f>F5&gt;100</f><v>0</v></c></row>' +
  '<row r="19" spans="1:14"><c r="B19"><v>0.30000000000000004</v></c><c r="C19"><f>_xldudf_WHEEL_RESULTANT(IF(B5:E5="","",B5:E5),"amount")+Limit</f><v>1</v></c></row>' +
  '<row r="20" spans="1:14"><c r="B20"><f>SUM(_xlfn.ANCHORARRAY(J5))</f><v>1</v></c><c r="C20"><f>M5*2</f><v>1</v></c></row></sheetData>' +
  '<autoFilter ref="A4:G9"/><mergeCells count="1"><mergeCell ref="A1:F1"/></mergeCells><phoneticPr fontId="1" type="noConversion"/>' +
  '<conditionalFormatting sqref="F5:F9"><cfRule type="cellIs" dxfId="0" priority="1" operator="greaterThan"><formula>100</formula></cfRule></conditionalFormatting>' +
  '<dataValidations count="1"><dataValidation type="decimal" allowBlank="1" showErrorMessage="1" sqref="B5:B9"><formula1>0</formula1><formula2>5</formula2></dataValidation></dataValidations>' +
  '<hyperlinks><hyperlink ref="A2" r:id="rId5" display="x"/></hyperlinks><pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/><pageSetup paperSize="9" orientation="landscape" r:id="rId4"/><headerFooter><oddFooter>&amp;P / &amp;N</oddFooter></headerFooter>' +
  '<drawing r:id="rId2"/><legacyDrawing r:id="rId6"/><tableParts count="1"><tablePart r:id="rId1"/></tableParts>' +
  `<extLst><ext uri="{05C60535-1F16-4fd2-B633-F4F36F0B64E0}"><x14:sparklineGroups><x14:sparklineGroup displayEmptyCellsAs="gap"><x14:colorSeries rgb="FF376092"/><x14:sparklines><x14:sparkline><xm:f>'${SHEET}'!B5:E5</xm:f><xm:sqref>H5</xm:sqref></x14:sparkline></x14:sparklines></x14:sparklineGroup></x14:sparklineGroups></ext></extLst></worksheet>`;

/** Another program's way of writing: prefixes everywhere, other quotation marks, cells without addresses. */
const SUMMARY_XML =
  `<?xml version='1.0'?><x:worksheet xmlns:x='${MAIN}'><x:dimension ref='A1'/><x:sheetData><x:row r='1'>` +
  `<x:c><x:f>'${SHEET}'!B13*2</x:f><x:v>1</x:v></x:c><x:c t='str'><x:f>'${SHEET}'!L9</x:f><x:v>do not move</x:v></x:c></x:row>` +
  `<x:row r='3'/><x:row><x:c r='A4'><x:f>SUMPRODUCT('${SHEET}'!B5:B7*1)</x:f><x:v>77</x:v></x:c></x:row></x:sheetData></x:worksheet>`;

const CHART =
  `${HEAD}<c:chartSpace xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><c:chart><c:plotArea><c:layout/><c:barChart><c:barDir val="col"/><c:grouping val="clustered"/><c:ser><c:idx val="0"/><c:order val="0"/><c:val><c:numRef><c:f>'${SHEET}'!$F$5:$F$9</c:f><c:numCache><c:formatCode>General</c:formatCode><c:ptCount val="5"/></c:numCache></c:numRef></c:val></c:ser><c:axId val="1"/><c:axId val="2"/></c:barChart><c:catAx><c:axId val="1"/><c:scaling/><c:delete val="0"/><c:axPos val="b"/><c:crossAx val="2"/></c:catAx><c:valAx><c:axId val="2"/><c:scaling/><c:delete val="0"/><c:axPos val="l"/><c:crossAx val="1"/></c:valAx></c:plotArea></c:chart></c:chartSpace>`;

const DRAWING =
  `${HEAD}<xdr:wsDr xmlns:xdr="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><xdr:twoCellAnchor><xdr:from><xdr:col>8</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>10</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:from><xdr:to><xdr:col>13</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>20</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:to><xdr:graphicFrame macro=""><xdr:nvGraphicFramePr><xdr:cNvPr id="2" name="Chart 1"/><xdr:cNvGraphicFramePr/></xdr:nvGraphicFramePr><xdr:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xdr:xfrm><a:graphic><a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/chart"><c:chart xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart" xmlns:r="${DOCUMENT}" r:id="rId1"/></a:graphicData></a:graphic></xdr:graphicFrame><xdr:clientData/></xdr:twoCellAnchor></xdr:wsDr>`;

const COMMENTS = `${HEAD}<comments xmlns="${MAIN}"><authors><author>Shop</author></authors><commentList><comment ref="B8" authorId="0"><text><r><t>measure again</t></r></text></comment></commentList></comments>`;

const VML =
  '<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel"><o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="1"/></o:shapelayout></xml>';

const THEME = `${HEAD}<a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" name="Office"><a:themeElements><a:clrScheme name="Office"><a:dk1><a:sysClr val="windowText" lastClr="000000"/></a:dk1><a:lt1><a:sysClr val="window" lastClr="FFFFFF"/></a:lt1><a:dk2><a:srgbClr val="44546A"/></a:dk2><a:lt2><a:srgbClr val="E7E6E6"/></a:lt2><a:accent1><a:srgbClr val="4472C4"/></a:accent1><a:accent2><a:srgbClr val="ED7D31"/></a:accent2><a:accent3><a:srgbClr val="A5A5A5"/></a:accent3><a:accent4><a:srgbClr val="FFC000"/></a:accent4><a:accent5><a:srgbClr val="5B9BD5"/></a:accent5><a:accent6><a:srgbClr val="70AD47"/></a:accent6><a:hlink><a:srgbClr val="0563C1"/></a:hlink><a:folHlink><a:srgbClr val="954F72"/></a:folHlink></a:clrScheme><a:fontScheme name="Office"><a:majorFont><a:latin typeface="Calibri Light"/><a:ea typeface=""/><a:cs typeface=""/></a:majorFont><a:minorFont><a:latin typeface="Calibri"/><a:ea typeface=""/><a:cs typeface=""/></a:minorFont></a:fontScheme><a:fmtScheme name="Office"><a:fillStyleLst><a:solidFill><a:schemeClr val="phClr"/></a:solidFill><a:solidFill><a:schemeClr val="phClr"/></a:solidFill><a:solidFill><a:schemeClr val="phClr"/></a:solidFill></a:fillStyleLst><a:lnStyleLst><a:ln><a:solidFill><a:schemeClr val="phClr"/></a:solidFill></a:ln><a:ln><a:solidFill><a:schemeClr val="phClr"/></a:solidFill></a:ln><a:ln><a:solidFill><a:schemeClr val="phClr"/></a:solidFill></a:ln></a:lnStyleLst><a:effectStyleLst><a:effectStyle><a:effectLst/></a:effectStyle><a:effectStyle><a:effectLst/></a:effectStyle><a:effectStyle><a:effectLst/></a:effectStyle></a:effectStyleLst><a:bgFillStyleLst><a:solidFill><a:schemeClr val="phClr"/></a:solidFill><a:solidFill><a:schemeClr val="phClr"/></a:solidFill><a:solidFill><a:schemeClr val="phClr"/></a:solidFill></a:bgFillStyleLst></a:fmtScheme></a:themeElements></a:theme>`;

const CALC_CHAIN = `${HEAD}<calcChain xmlns="${MAIN}"><c r="F5" i="1" a="1"/><c r="G5"/><c r="B13"/><c r="A1" i="2"/></calcChain>`;

/** A picture of one pixel. */
const PICTURE = Uint8Array.from(
  atob('iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=='),
  (c) => c.charCodeAt(0),
);

/** The parts by name, in an order of their own. */
export const RICH_PARTS: Readonly<Record<string, string | Uint8Array>> = {
  '[Content_Types].xml': CONTENT_TYPES,
  '_rels/.rels': relationships([
    ['rId1', 'officeDocument', 'xl/workbook.xml'],
    ['rId2', `${PACKAGE}/relationships/metadata/core-properties`, 'docProps/core.xml'],
    ['rId3', 'extended-properties', 'docProps/app.xml'],
    ['rId4', 'customXml', 'customXml/item1.xml'],
  ]),
  [SUMMARY_PART]: SUMMARY_XML,
  'xl/workbook.xml': WORKBOOK,
  'xl/_rels/workbook.xml.rels': relationships([
    ['rId2', 'worksheet', '/xl/worksheets/sheet7.xml'],
    ['rId1', 'worksheet', 'worksheets/sheet1.xml'],
    ['rId3', 'theme', 'theme/theme1.xml'],
    ['rId4', 'styles', 'styles.xml'],
    ['rId5', 'sharedStrings', 'sharedStrings.xml'],
    ['rId6', 'sheetMetadata', 'metadata.xml'],
    ['rId7', 'calcChain', 'calcChain.xml'],
  ]),
  [SHEET_PART]: SHEET_XML,
  'xl/worksheets/_rels/sheet1.xml.rels': relationships([
    ['rId1', 'table', '../tables/table1.xml'],
    ['rId2', 'drawing', '../drawings/drawing1.xml'],
    ['rId3', 'comments', '../comments1.xml'],
    ['rId4', 'printerSettings', '../printerSettings/printerSettings1.bin'],
    ['rId5', 'hyperlink', 'https://example.org/sets', true],
    ['rId6', 'vmlDrawing', '../drawings/vmlDrawing1.vml'],
  ]),
  'xl/theme/theme1.xml': THEME,
  'xl/styles.xml': STYLES,
  'xl/sharedStrings.xml': SHARED_STRINGS,
  'xl/metadata.xml': METADATA,
  'xl/calcChain.xml': CALC_CHAIN,
  'xl/tables/table1.xml': TABLE,
  'xl/comments1.xml': COMMENTS,
  'xl/drawings/vmlDrawing1.vml': VML,
  'xl/drawings/drawing1.xml': DRAWING,
  'xl/drawings/_rels/drawing1.xml.rels': relationships([
    ['rId1', 'chart', '../charts/chart1.xml'],
    ['rId2', 'image', '../media/image1.png'],
  ]),
  'xl/charts/chart1.xml': CHART,
  'xl/media/image1.png': PICTURE,
  'xl/printerSettings/printerSettings1.bin': Uint8Array.from({length: 300}, (_, i) => (i * 37) % 256),
  'docProps/core.xml': `${HEAD}<cp:coreProperties xmlns:cp="${PACKAGE}/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:creator>Shop</dc:creator></cp:coreProperties>`,
  'docProps/app.xml': `${HEAD}<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"><Application>Microsoft Excel</Application></Properties>`,
  'customXml/item1.xml': '<shop xmlns="urn:invented">kept</shop>',
};

/** The file, with parts replaced or, given undefined, left out. */
export function richWorkbook(changes: Readonly<Record<string, string | Uint8Array | undefined>> = {}): Uint8Array {
  const files: Zippable = {};
  for (const [name, content] of Object.entries({...RICH_PARTS, ...changes})) {
    if (content !== undefined) files[name] = typeof content === 'string' ? strToU8(content) : content;
  }
  return zipSync(files, {level: 6, mtime: new Date(2024, 4, 1)});
}
