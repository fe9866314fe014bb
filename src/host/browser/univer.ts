/** The grid (Univer) in the page: its scripts put their contents into the window, and are never bundled. */
import type * as ConditionalFormatting from '@univerjs/preset-sheets-conditional-formatting';
import type * as Sheets from '@univerjs/preset-sheets-core';
import type * as Drawing from '@univerjs/preset-sheets-drawing';
import type * as Presets from '@univerjs/presets';
import type {WorksheetFunction} from '../engine/functionsBundle';
import type {Engine} from '../engine/start';
import type {FunctionClass, StartedUniver} from '../engine/univerLibrary';

interface UniverWindow {
  readonly UniverCore: typeof Presets;
  readonly UniverPresets: Pick<typeof Presets, 'createUniver'>;
  readonly UniverEngineFormula: typeof Sheets;
  readonly UniverSheets: typeof Sheets;
  readonly UniverSheetsUi: typeof Sheets;
  readonly UniverPresetSheetsCore: Pick<typeof Sheets, 'UniverSheetsCorePreset'>;
  readonly UniverPresetSheetsConditionalFormatting: Pick<
    typeof ConditionalFormatting,
    'UniverSheetsConditionalFormattingPreset'
  >;
  readonly UniverPresetSheetsDrawing: Pick<typeof Drawing, 'UniverSheetsDrawingPreset'>;
  readonly UniverPresetSheetsCoreEnUS: object;
  readonly UniverPresetSheetsConditionalFormattingEnUS: object;
  readonly UniverPresetSheetsDrawingEnUS: object;
}

const univer = globalThis as unknown as UniverWindow;

export const library = {core: univer.UniverCore, formula: univer.UniverEngineFormula};
export const sheets = univer.UniverSheets;
export const sheetsUi = univer.UniverSheetsUi;

/** CalculationMode.NO_CALCULATION of the engine: the host says when. */
const NO_CALCULATION = 2;

/** The grid in an element of the page, with the worksheet functions. It serves one workbook after another. */
export function gridEngine(container: HTMLElement, functions: readonly WorksheetFunction[]): Engine {
  let started: StartedUniver | undefined;
  return {
    library: library as unknown as Engine['library'],
    functions,
    runsOn: true,
    start: (classes) => (started ??= startGrid(container, classes)),
  };
}

function startGrid(container: HTMLElement, classes: FunctionClass[]): StartedUniver {
  const {LocaleType, LogLevel, mergeLocales} = univer.UniverCore;
  return univer.UniverPresets.createUniver({
    locale: LocaleType.EN_US,
    locales: {
      [LocaleType.EN_US]: mergeLocales(
        univer.UniverPresetSheetsCoreEnUS,
        univer.UniverPresetSheetsConditionalFormattingEnUS,
        univer.UniverPresetSheetsDrawingEnUS,
      ),
    },
    logLevel: LogLevel.SILENT,
    presets: [
      univer.UniverPresetSheetsCore.UniverSheetsCorePreset({
        container,
        header: true,
        toolbar: true,
        ribbonType: 'simple',
        menu: NOT_OFFERED,
        disableAutoFocus: true,
        formula: {function: classes as never, initialFormulaComputing: NO_CALCULATION as never},
        footer: {menus: false, statisticBar: true},
      }),
      univer.UniverPresetSheetsConditionalFormatting.UniverSheetsConditionalFormattingPreset(),
      univer.UniverPresetSheetsDrawing.UniverSheetsDrawingPreset(),
    ],
  });
}

/** What the host could not follow, or could not save. */
const NOT_OFFERED = Object.fromEntries(
  [
    'sheet.menu.image',
    'sheet.command.insert-float-image',
    'sheet.menu.conditional-formatting',
    'sheet.menu.formula-insert',
  ].map((id) => [id, {hidden: true}]),
);
