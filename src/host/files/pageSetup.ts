/** The sheet on paper. */
import {withElement, xmlText} from './sheetElements';

/** Lengths in points. */
export interface PageToSave {
  readonly orientation: 'Portrait' | 'Landscape';
  /** Such as "A4" or "Letter". */
  readonly paperSize: string;
  readonly topMargin: number;
  readonly bottomMargin: number;
  readonly leftMargin: number;
  readonly rightMargin: number;
  readonly headerMargin: number;
  readonly footerMargin: number;
  readonly centerHorizontally: boolean;
  readonly centerVertically: boolean;
  readonly blackAndWhite: boolean;
  readonly draftMode: boolean;
  readonly printGridlines: boolean;
  readonly printHeadings: boolean;
  readonly printOrder: 'DownThenOver' | 'OverThenDown';
  readonly firstPageNumber: number | '';
  readonly zoom: {
    readonly scale?: number;
    readonly horizontalFitToPages?: number;
    readonly verticalFitToPages?: number;
  };
  readonly rowBreaks: readonly number[];
  readonly columnBreaks: readonly number[];
  /** By pages and place: "defaultForAllPages.leftHeader", "oddPages.centerFooter" and so on. */
  readonly headersFooters: Readonly<Record<string, string>>;
}

/** Numbers of paper sizes in the file format. */
const PAPER: Readonly<Record<string, number>> = {
  Letter: 1,
  Tabloid: 3,
  Legal: 5,
  Executive: 7,
  A3: 8,
  A4: 9,
  A5: 11,
  B5: 13,
};
const POINTS_OF_INCH = 72;
const LAST_ROW = 1048575;
const LAST_COLUMN = 16383;

export function withPage(xml: string, page: PageToSave): string {
  const {zoom} = page;
  const fits = zoom.horizontalFitToPages !== undefined || zoom.verticalFitToPages !== undefined;
  const flag = (value: boolean): boolean | undefined => value || undefined;
  const inches = (points: number): number => points / POINTS_OF_INCH;
  let made = withElement(xml, 'sheetPr', (prefix, before) => {
    const rest = (before?.inside ?? '').replace(/<[^>]*\bpageSetUpPr\b[^>]*>/, '');
    const fit = fits ? xmlText(`${prefix}pageSetUpPr`, {fitToPage: true}) : '';
    if (fit + rest === '' && !before?.attributes) return undefined;
    return `<${prefix}sheetPr${before?.attributes ?? ''}>${rest}${fit}</${prefix}sheetPr>`;
  });
  made = withElement(made, 'printOptions', (prefix) => {
    const {centerHorizontally, centerVertically, printHeadings, printGridlines} = page;
    if (!centerHorizontally && !centerVertically && !printHeadings && !printGridlines) return undefined;
    return xmlText(`${prefix}printOptions`, {
      horizontalCentered: flag(centerHorizontally),
      verticalCentered: flag(centerVertically),
      headings: flag(printHeadings),
      gridLines: flag(printGridlines),
    });
  });
  made = withElement(made, 'pageMargins', (prefix) =>
    xmlText(`${prefix}pageMargins`, {
      left: inches(page.leftMargin),
      right: inches(page.rightMargin),
      top: inches(page.topMargin),
      bottom: inches(page.bottomMargin),
      header: inches(page.headerMargin),
      footer: inches(page.footerMargin),
    }),
  );
  made = withElement(made, 'pageSetup', (prefix) =>
    xmlText(`${prefix}pageSetup`, {
      paperSize: PAPER[page.paperSize],
      scale: fits ? undefined : zoom.scale,
      firstPageNumber: page.firstPageNumber === '' ? undefined : page.firstPageNumber,
      // Without a number, as many pages as it takes.
      fitToWidth: fits ? (zoom.horizontalFitToPages ?? 0) : undefined,
      fitToHeight: fits ? (zoom.verticalFitToPages ?? 0) : undefined,
      pageOrder: page.printOrder === 'OverThenDown' ? 'overThenDown' : undefined,
      orientation: page.orientation.toLowerCase(),
      blackAndWhite: flag(page.blackAndWhite),
      draft: flag(page.draftMode),
      useFirstPageNumber: page.firstPageNumber === '' ? undefined : true,
    }),
  );
  made = withElement(made, 'headerFooter', (prefix) => {
    const [header, footer] = [sections(page, 'Header'), sections(page, 'Footer')];
    if (header === '' && footer === '') return undefined;
    const inside =
      (header === '' ? '' : xmlText(`${prefix}oddHeader`, {}, header)) +
      (footer === '' ? '' : xmlText(`${prefix}oddFooter`, {}, footer));
    return xmlText(`${prefix}headerFooter`, {}, inside);
  });
  made = withBreaks(made, 'rowBreaks', page.rowBreaks, LAST_COLUMN);
  return withBreaks(made, 'colBreaks', page.columnBreaks, LAST_ROW);
}

/** "&L…&C…&R…", encoded. */
const sections = ({headersFooters}: PageToSave, where: 'Header' | 'Footer'): string =>
  (['left', 'center', 'right'] as const)
    .map((side) => {
      const of = (pages: string): string | undefined => headersFooters[`${pages}.${side}${where}`];
      const text = of('defaultForAllPages') ?? of('oddPages') ?? '';
      const encoded = text.replace(/[<>&]/g, (c) => ({'<': '&lt;', '>': '&gt;', '&': '&amp;'})[c]!);
      return text === '' ? '' : `&amp;${side[0].toUpperCase()}${encoded}`;
    })
    .join('');

const withBreaks = (xml: string, name: string, breaks: readonly number[], last: number): string =>
  withElement(xml, name, (prefix) => {
    if (breaks.length === 0) return undefined;
    const each = breaks.map((id) => xmlText(`${prefix}brk`, {id, max: last, man: true}));
    return xmlText(`${prefix}${name}`, {count: breaks.length, manualBreakCount: breaks.length}, each.join(''));
  });
